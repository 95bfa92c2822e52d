"""Cord and size of a plan: one pass over its ties."""
