"""`coach export PIECE`: a piece with all that happened to it, in one file to carry along."""

import argparse
import os
from pathlib import Path

from coach.cli.written import refused, see_target
from coach.piece import NoSuchPiece, PieceError, Store, find_named, folders
from coach.piece.export_import import exported, file_name
from coach.piece.storage.atomic_write import write_whole
from coach.text import one_line


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("piece", metavar="PIECE", help="its name")
    parser.add_argument("file", metavar="FILE", nargs="?", default="", help="where to")
    parser.add_argument("--replace", action="store_true", help="write over a file that is there")


def run(options: argparse.Namespace) -> int:
    """Write the file; 2 if there is no such piece, or a file stands there already."""
    try:
        path = export(options.piece, options.file, replace=options.replace)
    except PieceError as error:
        return refused(str(error))
    print(f"Written to {one_line(str(path))}. `coach import` takes it in on any machine.")
    return 0


def export(name: str, file: str, *, replace: bool = False) -> Path:
    """Write a piece to a file, in this folder under its own name if none is given."""
    database = folders(os.environ).database
    if not database.exists():
        raise NoSuchPiece("There are no pieces yet.")
    with Store(database) as store:
        piece = find_named(store, name)
        text = exported(store, piece.id)
    path = Path(file or file_name(piece.name))
    see_target(path)
    return write_whole(path, text.encode(), replace=replace)
