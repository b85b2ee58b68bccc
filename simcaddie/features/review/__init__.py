"""Look back at a round that was played."""
