"""A course: its holes in playing order, and what the card says of its tees."""
