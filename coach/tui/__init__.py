"""The bench on a screen: a Textual app, from colours and drawings up to screens.

Widths are in columns and heights in lines of the terminal; a `Glyphs` says which characters it can
show, and an `Inks` what is written in which colour.
"""
