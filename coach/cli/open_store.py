"""Opening the store for a command, with an offer to mend a damaged one."""

import os
import sys

from coach.cli import lazy_actions
from coach.piece import Damaged, NewerVersion, PieceError, Store, folders
from coach.piece.storage.folders import network_kind
from coach.text import one_line


def open_store() -> Store:
    """Open the store; if it is damaged and the maker is there, ask what to do.

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
        if not lazy_actions.offer_recovery(database):
            raise
        store = Store(database)
    kind = network_kind(database)
    if kind:
        sys.stderr.write(f"coach: {network_words(kind)}\n")
    return store


def _checked(store: Store) -> Store:
    """Check that the list of pieces can be read; each piece is checked when it is opened."""
    try:
        store.pieces()
    except PieceError:
        store.close()
        raise
    return store


def network_words(kind: str) -> str:
    """Return the warning about a network drive."""
    return (
        f"Your pieces lie on a network drive ({kind}), where two machines at once may not see "
        "each other's counts. Work with one at a time, or set COACH_HOME to a folder of this "
        "machine."
    )
