"""The report of a plan for its maker before the first knot: values, rendered elsewhere."""
