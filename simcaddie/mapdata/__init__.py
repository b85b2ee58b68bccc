"""From a map of a golf course to hole records, and back: pure geometry, no files."""
