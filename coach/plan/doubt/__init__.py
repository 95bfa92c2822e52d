"""How sure cord and size are: what differs between cords and hands, and what that risks."""
