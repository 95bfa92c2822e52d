"""The project format as a JSON Schema for editors."""
