"""Longer reports that commands print: a plan, a piece, a pace plot, a swatch."""
