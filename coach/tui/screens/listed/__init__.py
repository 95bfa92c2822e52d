"""What is told and drawn of the marked entry of the list."""
