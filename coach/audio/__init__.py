"""Speak what the bench says and keep the display awake, with the system's own programs."""
