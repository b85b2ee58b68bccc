"""The bag: gaps, the card of carries, a new player."""
