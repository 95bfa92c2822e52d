"""Screens of a piece that goes on by sentences."""
