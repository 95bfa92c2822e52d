"""Sentences: steps, strands, places and warnings in words."""
