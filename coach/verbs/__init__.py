"""What the command line does, a module a verb; the only place that prints."""
