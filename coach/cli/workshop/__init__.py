"""The maker's pieces and the projects at hand: listed, begun, opened and put away."""
