"""Draw a hole, and measure the ways on it."""
