"""Figures: records drawn on matplotlib Axes that are handed in, and sheets made of them."""
