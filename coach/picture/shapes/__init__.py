"""The shape of each knot and fitting, in millimetres, over and under."""
