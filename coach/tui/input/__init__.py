"""Bytes from the terminal to keys."""
