"""Colours of our own, and what a terminal can show of them."""
