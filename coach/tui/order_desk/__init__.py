"""The order desk on the screen, and what is done to orders on the list."""
