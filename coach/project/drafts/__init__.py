"""Templates for new project files, by kind of piece."""
