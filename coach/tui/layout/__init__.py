"""The work screen laid out as styled lines, for any size of terminal."""
