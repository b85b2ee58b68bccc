"""Play a real hole on the range, before the round."""
