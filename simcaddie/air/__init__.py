"""The day: what the air does to a flight."""
