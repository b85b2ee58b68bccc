"""Best play from everywhere, by dynamic programming over the stroke kernel; and the score law of any policy."""
