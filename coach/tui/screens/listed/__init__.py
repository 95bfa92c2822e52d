"""Details and pictures of the marked entry of the list."""
