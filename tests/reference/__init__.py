"""Outside values that checks compare with, each with its source and how it is known."""
