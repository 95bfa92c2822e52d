"""The commands: a module for each, with its arguments and its action."""
