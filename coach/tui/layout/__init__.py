"""The work screen as styled lines, for any size of terminal."""
