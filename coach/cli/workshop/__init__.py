"""The workshop: the maker's pieces and projects listed, begun, opened and put away."""
