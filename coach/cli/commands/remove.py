"""`coach remove PIECE`: delete a piece after asking; `coach import` of its file undoes it."""

import argparse
import os
import sys
from itertools import count
from pathlib import Path
from typing import Final

from coach.cli.file_output import refuse_call
from coach.piece.export_import import piece_file_name, remove_piece, to_text
from coach.piece.piece_errors import AlreadyThere, NoSuchPiece, PieceError
from coach.piece.service import find_named
from coach.piece.storage.atomic_write import write_whole
from coach.piece.storage.folders import ensure_folder, folders
from coach.piece.storage.read_piece import KeptPiece, read_whole_piece
from coach.piece.storage.store import Store
from coach.text import one_line

_YES: Final = ("y", "yes")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("piece", metavar="PIECE", help="its name")
    parser.add_argument("--yes", action="store_true", help="without asking")


def run(options: argparse.Namespace) -> int:
    """Delete the piece; 1 if the answer is no, 2 if there is none of that name."""
    database = folders(os.environ).database
    try:
        if not database.exists():
            raise NoSuchPiece("There are no pieces yet.")
        with Store(database) as store:
            kept = read_whole_piece(store, find_named(store, options.piece).id)
            if not (options.yes or _sure(kept)):
                print("Nothing was changed.")
                return 1
            left = _left(ensure_folder(database.parent / "removed"), kept)
            remove_piece(store, kept)
    except PieceError as error:
        return refuse_call(str(error))
    print(f"‘{one_line(kept.summary.name)}’ is removed. It is kept in {one_line(str(left))}:")
    print("`coach import` with that file brings it back.")
    return 0


def _sure(kept: KeptPiece) -> bool:
    """Ask whether to delete the piece; no answer means no."""
    piece = kept.summary
    sys.stdout.write(
        f"Remove ‘{one_line(piece.name)}’, {piece.done:,} of {piece.total:,} made? y or n: "
    )
    sys.stdout.flush()
    answer = sys.stdin.readline().strip().casefold()
    if not sys.stdin.isatty():
        print()
    return answer in _YES


def _left(folder: Path, kept: KeptPiece) -> Path:
    """Write the piece to a file before it is deleted; return its path. Raises CannotKeep."""
    name = piece_file_name(kept.summary.name)
    text = to_text(kept.summary.name, kept.events, kept.summary.uid).encode()
    for number in count(1):
        try:
            return write_whole(folder / (name if number == 1 else f"{number}-{name}"), text)
        except AlreadyThere:
            continue
    raise AssertionError
