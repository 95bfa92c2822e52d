"""The command line: one module a command in `commands/`, and what several commands share."""
