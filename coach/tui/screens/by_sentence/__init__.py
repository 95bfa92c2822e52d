"""Screens of a piece that goes on by what is said."""
