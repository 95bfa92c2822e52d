"""The command line: a module for each command in `commands/`, and what several share."""
