"""`coach pieces`: the pieces that are kept, last touched first."""

import argparse
import json
import os
import sys

from coach.piece.folders import folders
from coach.piece.problems import PieceError
from coach.piece.service import pieces
from coach.piece.store import Store, Summary
from coach.quantities import show_time
from coach.text import one_line


def run(options: argparse.Namespace) -> int:
    """Print the pieces; 2 if the place where they are kept cannot be read."""
    try:
        kept = _kept()
    except PieceError as error:
        sys.stderr.write(f"coach: {one_line(str(error))}\n")
        return 2
    if options.json:
        print(json.dumps([piece.to_data() for piece in kept], indent=2, ensure_ascii=False))
    elif kept:
        print("\n".join(_line(piece) for piece in kept))
    else:
        print("No pieces yet. `coach knot reed-keyring` starts one.")
    return 0


def _kept() -> list[Summary]:
    database = folders(os.environ).database
    if not database.exists():
        return []
    with Store(database) as store:
        return pieces(store)


def _line(piece: Summary) -> str:
    """Give one piece in a line: name, how far, how long, when."""
    far = "finished" if piece.finished else f"{piece.done:,} of {piece.total:,}"
    when = piece.touched.replace("T", " ").removesuffix("Z")[:16]
    return (
        f"{one_line(piece.name):32} {far:>16}  {show_time(piece.worked_ms / 1000):>10}  {when} UTC"
    )
