"""Reads YAML by hand-typed scalars, with every problem in its place."""
