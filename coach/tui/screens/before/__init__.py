"""The lists for cutting and hanging: of one piece, and of all pieces of an order."""
