"""The board as character cells."""
