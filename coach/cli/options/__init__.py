"""Options that several commands share: which piece, its size, colours, hands, cutting."""
