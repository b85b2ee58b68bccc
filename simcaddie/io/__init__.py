"""Files that people write, read to records with their faults told by line; and files written back."""
