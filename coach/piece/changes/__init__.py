"""What happens to a piece beside its plan, and the plan that follows from it."""
