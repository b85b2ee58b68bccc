"""From a range session to what is known of a player: separating strikes, shrinking, and what the range hides."""
