"""The screens beside the board."""
