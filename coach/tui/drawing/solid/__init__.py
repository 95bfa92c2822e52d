"""Pictures of the board in solid cords, in light and shade, for terminals with colours enough."""
