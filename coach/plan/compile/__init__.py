"""From a project to a flat sequence of counts, worked on a board."""
