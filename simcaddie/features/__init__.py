"""What simcaddie does for a coach: a folder a feature, with its analysis, what it presents and its command."""
