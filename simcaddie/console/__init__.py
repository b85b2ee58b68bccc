"""What commands share: their options, their console, their progress."""
