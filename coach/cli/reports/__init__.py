"""What commands print that takes more than a line: a plan, a piece, a pace."""
