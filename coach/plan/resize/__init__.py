"""Changing a project to another size."""
