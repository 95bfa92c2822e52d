"""What the maker does to whole pieces: calls them otherwise, deletes them, takes that back."""

from collections.abc import Callable

from coach.piece.export_import import exported, from_text, take_in
from coach.piece.service import asked_name
from coach.piece.storage.read_piece import the_piece
from coach.piece.storage.store import Store, name_key


def rename(store: Store, piece_id: int, name: str) -> str:
    """Give a piece another name, and return the name as it is kept.

    Args:
        store: Where the piece is kept.
        piece_id: The piece's number.
        name: The name; it is put on one line. An empty one changes nothing.

    Raises:
        NameTaken: Another piece is called so.
        PieceError: It cannot be kept.
    """
    with store.atomic():
        piece = the_piece(store, piece_id)
        others = [other.name for other in store.pieces() if other.id != piece_id]
        chosen = asked_name(name, others)
        if name_key(chosen):
            store.rename(piece_id, chosen)
    return chosen or piece.name


def delete(store: Store, piece_id: int) -> Callable[[], str]:
    """Delete a piece with all that was counted and noted, and return what brings it back.

    Bringing it back returns the sentence that says so; it raises PieceError where it cannot.
    """
    text = exported(store, piece_id)
    with store.atomic():
        store.remove(piece_id)
    return lambda: take_in(store, from_text(text))
