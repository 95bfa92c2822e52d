"""A piece as written instructions: numbered, with repeats folded, for paper."""
