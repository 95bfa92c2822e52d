"""`coach how KNOT`: how a knot is tied, in words and stages; without a knot, all of them."""

import argparse
import shutil
import sys
from collections.abc import Iterator
from typing import Final

from coach import tui
from coach.cli.file_output import refuse_call
from coach.knots import names
from coach.knots.catalogue import CATALOGUE
from coach.knots.explanation import Side, explain_knot
from coach.text import normalized_name, one_line
from coach.tui.drawing.cells import UNICODE, glyphs_for
from coach.tui.theme.palette import DARK

_WIDEST: Final = 100


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("knot", nargs="*", metavar="KNOT", help="a knot, by any of its names")
    side = parser.add_mutually_exclusive_group()
    side.add_argument(
        "--left", dest="side", action="store_const", const="left", help="begun on the left"
    )
    side.add_argument(
        "--right", dest="side", action="store_const", const="right", help="begun on the right"
    )


def run(options: argparse.Namespace) -> int:
    """Print how a knot is tied; 2 if no knot is so called."""
    asked = " ".join(options.knot)
    if not normalized_name(asked):
        print("\n".join(_all_knots()))
        return 0
    knot = names.first_name(asked) or names.first_name(asked, in_row=True)
    if knot is None:
        return refuse_call(_unknown(asked))
    for line in _shown(knot, options.side):
        print(line)
    return 0


def _shown(knot: str, side: Side | None) -> Iterator[str]:
    """Yield how a knot is tied in lines, as the bench draws it."""
    glyphs = glyphs_for(sys.stdout.encoding)
    width = min(_WIDEST, shutil.get_terminal_size().columns) - 1
    inks = tui.Inks(DARK, plain=glyphs is not UNICODE)
    yield from tui.printed_how(explain_knot(knot, side), inks, glyphs, width)


def _unknown(asked: str) -> str:
    near = names.near_name(asked)
    hint = f"Did you mean ‘{near}’?" if near else "`coach how` alone lists them all."
    return f"Unknown knot ‘{one_line(asked)}’. {hint}"


def _all_knots() -> list[str]:
    """Return every knot with its other names, and what it is."""
    others: dict[str, list[str]] = {}
    for other, first in (*names.SYNONYMS.items(), *names.ROW_SYNONYMS.items()):
        others.setdefault(first, []).append(other)
    lines = ["Knots: `coach how KNOT` shows how one is tied, --left or --right begun on that side."]
    for knot, entry in CATALOGUE.items():
        also = f" (also {', '.join(others[knot])})" if knot in others else ""
        lines += [f"{knot}{also}", f"    {entry.roles}"]
    return lines
