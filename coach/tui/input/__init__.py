"""From the terminal's bytes to keys."""
