"""The project file: its frozen model, the reader, the schema and templates for new files."""
