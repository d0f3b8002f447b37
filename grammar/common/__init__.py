"""What the languages share: pointed errors, text, records, tables, kept values."""
