"""Deviations from the plan: measuring, choosing and fitting on the bench."""
