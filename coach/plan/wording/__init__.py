"""Steps, strands and cautions in words."""
