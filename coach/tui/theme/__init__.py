"""Our colours, and what a terminal can show of them."""
