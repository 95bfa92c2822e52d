"""The work as cords in millimetres, over and under, and how it is drawn."""
