"""What a maker enters beside counts, looked at and questioned before it is kept."""
