"""The bench of a piece that goes on by sentences, without a pattern."""
