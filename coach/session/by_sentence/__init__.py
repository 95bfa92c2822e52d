"""A piece that goes on by what is said, without a pattern."""
