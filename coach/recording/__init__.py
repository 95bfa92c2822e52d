"""Knot first: what is said of the work as it is knotted becomes a project file."""
