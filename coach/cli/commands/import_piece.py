"""`coach import FILE`: import a piece, an order or the stock."""

import argparse
import os
from pathlib import Path

from coach.cli.file_output import refuse_call
from coach.desk.desk_export import AnyCarried, CarriedOrder, CarriedStock, from_file_text
from coach.desk.order_file import take_in_order, take_in_stock
from coach.piece import CannotTakeIn, NewerVersion, PieceError, Store, SystemClock, folders
from coach.piece.export_import import MOST_BYTES, take_in_piece
from coach.text import one_line


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("file", metavar="FILE")
    parser.add_argument("--name", default="", help="what to call it here")
    parser.add_argument(
        "--replace", action="store_true", help="in place of one that went another way"
    )


def run(options: argparse.Namespace) -> int:
    """Import the file; 1 if its content cannot be imported, 2 if it or the store cannot be used."""
    try:
        carried = read_export(Path(options.file))
        with Store(folders(os.environ).database) as store:
            if options.replace:
                store.snapshot(SystemClock().now_ms())  # what is replaced can be had back
            told = _taken_in(store, carried, options.name, instead=options.replace)
    except (CannotTakeIn, NewerVersion) as error:
        return refuse_call(f"{options.file}: {error}", 1)
    except (PieceError, OSError, ValueError) as error:
        said = getattr(error, "strerror", None) or str(error)
        return refuse_call(f"{options.file}: {said}")
    print(one_line(told))
    return 0


def _taken_in(store: Store, carried: AnyCarried, name: str, *, instead: bool) -> str:
    if isinstance(carried, CarriedOrder):
        return take_in_order(store, carried, name, instead=instead)
    if isinstance(carried, CarriedStock):
        if name:
            raise CannotTakeIn("There is one stock here; leave --name out.")
        return take_in_stock(store, carried, instead=instead)
    return take_in_piece(store, carried, name, instead=instead)


def read_export(path: Path) -> AnyCarried:
    """Read an exported file. Raises CannotTakeIn, NewerVersion, OSError."""
    if not path.is_file():
        raise CannotTakeIn("There is no such file.")
    if path.stat().st_size > MOST_BYTES:
        raise CannotTakeIn(f"It is larger than {MOST_BYTES // 2**20} MiB: too large for a piece.")
    try:
        return from_file_text(path.read_bytes().decode())
    except UnicodeDecodeError as error:
        raise CannotTakeIn("This is not an exported piece.") from error
