"""A sitting: a piece opened for work, its events stored in turn, on a disk that may be slow."""
