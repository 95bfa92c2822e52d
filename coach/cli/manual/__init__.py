"""The manual: its pages, their rendering in a terminal, and the man page."""
