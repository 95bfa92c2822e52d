"""The bench in plain lines, for screen readers and simple terminals."""
