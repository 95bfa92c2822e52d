"""Cord: what to cut, from which hank, and how much is left on each strand."""
