"""The order of the piece on the bench: preparing all pieces, and changing to another one."""
