"""The ground: holes, outlines, grids, heights, distances, the line of play, and the course with its card."""
