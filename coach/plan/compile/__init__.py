"""The compiler: a project's steps carried out on a board, as a flat sequence of counts."""
