"""The lines of text pages: knots, cords, plan, keys, measures, the signs of the drawing."""
