"""A piece on one page to print: lists, drawings of each row, the schematic."""
