"""The knots: their names, how they are tied, how much cord and room they take."""
