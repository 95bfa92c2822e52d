"""The strands in their order from the left, and how each kind of step changes that order."""
