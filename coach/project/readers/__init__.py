"""Readers of a project file: a module for each section or kind of step."""
