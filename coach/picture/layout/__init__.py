"""The layout: where the knots of a plan lie, and the cords between them."""
