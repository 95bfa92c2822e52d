"""What a knot is: its names, its parts, how much cord and room it takes."""
