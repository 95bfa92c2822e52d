"""The order of the piece at hand: what is made ready for all, and going over to another piece."""
