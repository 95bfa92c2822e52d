"""The board drawn in character cells."""
