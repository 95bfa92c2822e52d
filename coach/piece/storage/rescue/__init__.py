"""Getting back what can be had of a damaged file of pieces."""
