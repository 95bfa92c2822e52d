"""Learning from pieces: from this one for itself, and for the next."""
