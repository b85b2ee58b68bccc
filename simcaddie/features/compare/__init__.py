"""Rank clubs and lines for one stroke."""
