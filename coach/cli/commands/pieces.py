"""`coach pieces`: the stored pieces, last touched first; with a name, one of them."""

import argparse
import os
import sys
from pathlib import Path

from coach.cli.file_output import refuse_call
from coach.cli.orders.price_list import prices_if_sound
from coach.cli.output import print_json
from coach.cli.reports.piece_data import PieceTold, as_csv, gather_piece, list_csv, piece_json
from coach.cli.reports.piece_page import render_piece
from coach.piece.clock import SystemClock
from coach.piece.piece_errors import NoSuchPiece, PieceError
from coach.piece.service import find_named, list_pieces, set_teaching
from coach.piece.storage.folders import folders
from coach.piece.storage.store import Store
from coach.piece.storage.summary import Summary
from coach.quantities import show_time
from coach.session.time_format import dated_moment, local_time
from coach.text import one_line


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("piece", nargs="?", default="", metavar="NAME", help="one piece, by name")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="as one JSON list, or object")
    form.add_argument("--csv", action="store_true", help="as rows for your own books")
    form.add_argument(
        "--leave-out", action="store_true", help="learn nothing from this piece for the next ones"
    )
    form.add_argument("--learn", action="store_true", help="learn from it again")
    form.add_argument("--names", action="store_true", help="their names alone, one a line")


def run(options: argparse.Namespace) -> int:
    """Print the pieces, or one; 2 if they cannot be read or there is none of that name."""
    try:
        if options.leave_out or options.learn:
            return _teach(options.piece, teaches=options.learn)
        if options.piece and not options.names:
            return _one(options)
        kept = _kept()
    except PieceError as error:
        return refuse_call(str(error))
    if options.names:
        print("".join(f"{one_line(piece.name)}\n" for piece in kept), end="")
    elif options.json:
        print_json([piece.to_data() for piece in kept])
    elif options.csv:
        print(list_csv(kept), end="")
    elif kept:
        print("\n".join(_line(piece) for piece in kept))
    else:
        print("No pieces yet. `coach knot reed-keyring` starts one.")
    return 0


def _one(options: argparse.Namespace) -> int:
    """Print the report of one piece."""
    told = _told(options.piece)
    if options.json:
        print_json(piece_json(told))
    elif options.csv:
        print(as_csv(told), end="")
    else:
        plain = not (sys.stdout.encoding or "").lower().startswith("utf")
        print("\n".join(render_piece(told, plain=plain)))
    return 0


def _teach(name: str, *, teaches: bool) -> int:
    """Set whether other pieces learn from a piece, and say so."""
    with Store(_database(name)) as store:
        piece = find_named(store, name)
        set_teaching(store, SystemClock(), piece.id, teaches=teaches)
    told = "The next pieces learn from" if teaches else "The next pieces learn nothing from"
    print(f"{told} ‘{one_line(piece.name)}’.")
    return 0


def _told(name: str) -> PieceTold:
    with Store(_database(name)) as store:
        summary = find_named(store, name)
        return gather_piece(summary, store.events_after(summary.id), prices_if_sound())


def _database(name: str) -> Path:
    """Return the path of the store with that piece. Raises NoSuchPiece if there is none."""
    database = folders(os.environ).database
    if not name:
        raise NoSuchPiece("Name the piece: `coach pieces` lists them.")
    if not database.exists():
        raise NoSuchPiece(f"No piece is called ‘{one_line(name)}’: there are none yet.")
    return database


def _kept() -> list[Summary]:
    database = folders(os.environ).database
    if not database.exists():
        return []
    with Store(database) as store:
        return list_pieces(store)


def _line(piece: Summary) -> str:
    """Return one piece in a line: name, progress, time worked, last touched."""
    far = "finished" if piece.finished else f"{piece.done:,} of {piece.total:,}"
    far = f"{piece.done:,} made" if piece.open_ended else far
    worked, when = show_time(piece.worked_ms / 1000), dated_moment(local_time(piece.touched_ms))
    return f"{one_line(piece.name):26} {far:>15}  {worked:>10}  {when}"
