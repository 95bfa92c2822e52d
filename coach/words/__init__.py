"""Written instructions for paper: numbered, with repeats folded."""
