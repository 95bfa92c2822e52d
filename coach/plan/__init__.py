"""The plan: a project as a flat sequence of counts, and what is computed from it."""
