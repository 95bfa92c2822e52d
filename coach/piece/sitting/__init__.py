"""A piece opened for work: what is done to it, stored in turn, on a disk that may be slow."""
