"""Work that goes otherwise than the plan: what is measured, chosen or fitted on the bench."""
