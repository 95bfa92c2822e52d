"""The cutting and hanging lists, of one piece and of all pieces of an order."""
