"""The board as an image, for terminals that show images: an optional extra."""
