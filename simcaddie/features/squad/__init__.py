"""A coach's whole group on one course."""
