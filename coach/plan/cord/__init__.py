"""What to cut, from which hank, and how much is left of it."""
