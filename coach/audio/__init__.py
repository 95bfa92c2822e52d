"""Speech and a display that stays on, both by programs of the system."""
