"""One module a section of a project file or a kind of step."""
