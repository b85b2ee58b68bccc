"""One position, its options, what they come to, how clear that is, why and until when, in words."""
