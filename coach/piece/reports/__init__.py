"""Reports on a piece: time, cord, cost, and how long is left."""
