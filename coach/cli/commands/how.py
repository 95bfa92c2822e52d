"""`coach how KNOT`: how a knot is tied, in words and stages; without a knot, all of them."""

import argparse
import shutil
import sys
from typing import Final

from coach.knots import names
from coach.knots.catalogue import CATALOGUE
from coach.knots.explanation import how
from coach.text import one_line, plain
from coach.tui.drawing.cells import UNICODE, glyphs_for
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.knot_page import Pens, how_lines
from coach.tui.theme.palette import DARK

_WIDEST: Final = 100


def run(options: argparse.Namespace) -> int:
    """Print how a knot is tied; 2 if no knot is so called."""
    asked = " ".join(options.knot)
    if not plain(asked):
        print("\n".join(_all_knots()))
        return 0
    knot = names.first_name(asked) or names.first_name(asked, in_row=True)
    if knot is None:
        sys.stderr.write(f"coach: {_unknown(asked)}\n")
        return 2
    glyphs = glyphs_for(sys.stdout.encoding)
    inks = Inks(DARK, plain=glyphs is not UNICODE)
    width = min(_WIDEST, shutil.get_terminal_size().columns) - 1
    for line in how_lines(how(knot, options.side), Pens(inks, glyphs), width):
        print(inks.shown(line).plain.rstrip())
    return 0


def _unknown(asked: str) -> str:
    near = names.near_name(asked)
    hint = f"Is {near!r} meant?" if near else "`coach how` alone lists them all."
    return f"There is no knot {one_line(asked)!r}. {hint}"


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
