"""Draw a lesson about two clubs."""
