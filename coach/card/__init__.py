"""The card: a page to print with cut list, drawings of each row and the finished piece."""
