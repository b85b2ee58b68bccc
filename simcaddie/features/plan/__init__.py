"""Plan a whole hole."""
