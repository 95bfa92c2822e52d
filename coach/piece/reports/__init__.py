"""What a piece took: time, cord, cost, and how long is left."""
