"""What a call asks for: this piece, in this size, these colours and hands, cut so."""
