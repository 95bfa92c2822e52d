"""Pictures of the board with solid, shaded cords, for terminals with enough colours."""
