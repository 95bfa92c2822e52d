"""Pages of text behind the work screen."""
