"""What a maker is told of a plan before the first knot: gathered once, as values."""
