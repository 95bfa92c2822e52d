"""Changes to a piece under way, and the plan that follows from them."""
