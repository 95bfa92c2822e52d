"""The manual: its pages, how they are shown in a terminal, and the man page."""
