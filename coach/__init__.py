"""A coach beside the board: steps through a knotted piece and keeps its counts."""

__version__ = "0.1.0"
