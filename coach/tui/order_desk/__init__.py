"""The order desk on the screen, and actions on orders of the list."""
