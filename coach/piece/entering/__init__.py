"""What a maker enters beside counts (measures, choices, joins), checked before it is stored."""
