"""The Textual app that shows a session."""
