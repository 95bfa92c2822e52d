"""`coach export PIECE`: a piece, an order or the stock, in one file for another machine."""

import argparse
import os
from pathlib import Path

from coach.cli.file_output import check_target, refuse_call
from coach.desk.desk_export import desk_file_name
from coach.desk.order_file import exported_order, exported_stock
from coach.piece import NoSuchPiece, PieceError, Store, find_named, folders
from coach.piece.export_import import export_piece, piece_file_name
from coach.piece.storage.atomic_write import write_whole
from coach.text import one_line


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("piece", metavar="PIECE", nargs="?", default="", help="its name")
    parser.add_argument("file", metavar="FILE", nargs="?", default="", help="where to")
    what = parser.add_mutually_exclusive_group()
    what.add_argument(
        "--order", metavar="NAME", default="", help="an order with all its pieces, instead of PIECE"
    )
    what.add_argument(
        "--stock", action="store_true", help="the stock with all its entries, instead of PIECE"
    )
    parser.add_argument("--replace", action="store_true", help="write over a file that is there")


def run(options: argparse.Namespace) -> int:
    """Write the file; 2 if there is no such piece, or a file stands there already."""
    of_desk = bool(options.order) or options.stock
    if of_desk and options.file:
        return refuse_call("With --order or --stock, give only a FILE.")
    if not of_desk and not options.piece:
        return refuse_call("Name a piece, or say --order NAME or --stock.")
    file = options.piece if of_desk else options.file
    try:
        path = export(options, file)
    except PieceError as error:
        return refuse_call(str(error))
    print(f"Written to {one_line(str(path))}. `coach import` takes it in on any machine.")
    return 0


def export(options: argparse.Namespace, file: str) -> Path:
    """Write a piece, an order or the stock, by default in this folder under its own name."""
    database = folders(os.environ).database
    if not database.exists():
        raise NoSuchPiece("There are no pieces yet.")
    with Store(database) as store:
        name, text = _exported(store, options)
    path = Path(file or name)
    check_target(path)
    return write_whole(path, text.encode(), replace=options.replace)


def _exported(store: Store, options: argparse.Namespace) -> tuple[str, str]:
    """Return the default name of the file, and its content."""
    if options.stock:
        return desk_file_name("", "stock"), exported_stock(store)
    if options.order:
        return desk_file_name(options.order, "order"), exported_order(store, options.order)
    piece = find_named(store, options.piece)
    return piece_file_name(piece.name), export_piece(store, piece.id)
