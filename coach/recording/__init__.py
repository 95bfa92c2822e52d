"""Knotting without a pattern: sentences about the work become a project file."""
