"""Show what the day makes of every swing."""
