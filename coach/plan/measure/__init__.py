"""Measuring a plan: one pass over its ties computes cord and size."""
