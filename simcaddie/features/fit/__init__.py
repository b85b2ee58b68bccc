"""Turn range sessions into a player file."""
