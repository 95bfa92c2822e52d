"""The errors of storing pieces, each with words for the maker."""


class PieceError(Exception):
    """Anything that prevents storing or reading a piece; its text is for the maker."""


class CannotKeep(PieceError):
    """A folder or file cannot be created, read or written."""


class Damaged(PieceError):
    """Stored data cannot be read as pieces."""


class NewerVersion(PieceError):
    """Stored data was written by a newer coach."""


class Busy(PieceError):
    """Another program held the file for longer than the timeout."""


class StillWriting(Busy):
    """A write is still going on."""


class OutOfTurn(PieceError):
    """Another coach has written to this piece since it was read."""


class NameTaken(PieceError):
    """The name asked for belongs to another piece."""


class NoSuchPiece(PieceError):
    """No piece has that name or number."""


class TakenOver(PieceError):
    """The piece follows another project text than the one it was opened with."""


class CannotBe(PieceError):
    """An event whose figures or texts are out of range."""


class CannotTakeIn(PieceError):
    """A file that cannot be read as a piece, or contradicts the pieces in the store."""


class AlreadyThere(PieceError):
    """A file would be overwritten."""


class NotOurs(CannotKeep):
    """At the path of the store there are other files now, an older copy, or nothing."""


class CountedOtherwise(PieceError):
    """This coach compiles a piece's project to other counts than the piece has."""
