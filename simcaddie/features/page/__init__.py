"""One page to try strokes on, before the round: choose a club, turn the line, watch the balls fall."""
