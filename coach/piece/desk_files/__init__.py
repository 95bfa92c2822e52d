"""Orders and stock as files, to be carried to another machine and back."""
