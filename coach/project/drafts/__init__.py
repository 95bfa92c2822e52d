"""First project files by kind of piece: what they ask for, and how they are written."""
