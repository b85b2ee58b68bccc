"""What figures share: maps, labels, legends, markers, text, the card, the style."""
