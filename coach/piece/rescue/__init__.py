"""Recovery of what can be read from a damaged database."""
