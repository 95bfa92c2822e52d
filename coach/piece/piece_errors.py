"""What can go wrong while pieces are kept, each with words for the maker."""


class PieceError(Exception):
    """Anything that stops a piece from being kept or read; its text is for the maker."""


class CannotKeep(PieceError):
    """A folder or file cannot be made, read or written."""


class Damaged(PieceError):
    """What is kept cannot be read as pieces."""


class NewerVersion(PieceError):
    """What is kept was written by a newer coach."""


class Busy(PieceError):
    """Another program held the file for longer than is waited."""


class StillWriting(Busy):
    """Something is on its way to the disk, and not there yet."""


class OutOfTurn(PieceError):
    """Another coach has written to this piece since it was read."""


class NameTaken(PieceError):
    """The name asked for belongs to another piece."""


class NoSuchPiece(PieceError):
    """No piece has that name or number."""


class TakenOver(PieceError):
    """The piece follows another project text than the one it was opened with."""


class CannotBe(PieceError):
    """Something that is said to have happened is out of every range."""


class CannotTakeIn(PieceError):
    """A file cannot be read as a piece, or does not go with the pieces that are kept."""


class AlreadyThere(PieceError):
    """A file would be written over another."""


class NotOurs(CannotKeep):
    """Where the pieces were, other files are now, an older copy of them, or nothing."""


class CountedOtherwise(PieceError):
    """A piece has other counts than its project has by this coach."""
