"""What was asked, and its answer."""
