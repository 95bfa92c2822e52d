"""The picture: the work as cords in millimetres, over and under, and its rendering."""
