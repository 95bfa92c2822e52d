"""A coach for macrame makers: it steps through a piece at the board and keeps the counts."""

__version__ = "0.1.0"
