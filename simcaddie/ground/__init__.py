"""The hole: its record, outlines, area grid, distances and targets."""
