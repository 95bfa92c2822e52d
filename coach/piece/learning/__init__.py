"""What pieces teach: of this one, and of the next."""
