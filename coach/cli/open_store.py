"""The store as commands open it: a damaged one is looked at together with the maker."""

import os
import sys

from coach.cli.mending import ask
from coach.piece import Damaged, NewerVersion, PieceError, Store, folders
from coach.piece.storage.network_drive import network_kind
from coach.text import one_line


def open_store() -> Store:
    """Open the store; where it is damaged and the maker is there, ask what is to be done.

    Raises:
        PieceError: It cannot be opened, or the maker leaves it as it is.
    """
    database = folders(os.environ).database
    try:
        store = _checked(Store(database))
    except (Damaged, NewerVersion) as error:
        if not sys.stdin.isatty():
            raise
        sys.stderr.write(f"coach: {one_line(str(error))}\n\n")
        if not ask(database):
            raise
        store = Store(database)
    kind = network_kind(database)
    if kind:
        sys.stderr.write(f"coach: {network_words(kind)}\n")
    return store


def _checked(store: Store) -> Store:
    """See that the list of pieces can be read; what is in each is seen when it is opened."""
    try:
        store.pieces()
    except PieceError:
        store.close()
        raise
    return store


def network_words(kind: str) -> str:
    """Say what a network drive means for pieces."""
    return (
        f"Your pieces lie on a network drive ({kind}), where two machines at once may not see "
        "each other's counts. Work with one at a time, or set COACH_HOME to a folder of this "
        "machine."
    )
