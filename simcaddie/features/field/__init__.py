"""A club's members on a course: scores, where strokes should fall, and what a tee or a pin does."""
