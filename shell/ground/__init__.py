"""What every wing stands on: errors reported, tables, progress."""
