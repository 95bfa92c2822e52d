"""The lines of pages of text: knots, cords, plan, keys, measures, the signs of the drawing."""
