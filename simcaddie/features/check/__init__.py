"""Look for mistakes in files."""
