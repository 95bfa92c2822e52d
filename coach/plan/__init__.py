"""From a project to a plan: the flat sequence of counts and what follows from it."""
