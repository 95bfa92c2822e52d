"""`coach desk`: orders, stock and the quote of a project on one screen, changed by keys."""

import argparse
import os
from collections.abc import Callable
from functools import lru_cache

from coach.cli import terminal
from coach.cli.bench_setup import set_up, unit_of
from coach.cli.orders.desk_lines import desk_lines
from coach.cli.orders.makers_hands import InHands, read_in_hands
from coach.cli.orders.price_list import prices_if_sound
from coach.cli.shelf import NoSuchProject, shelf
from coach.cli.skill_question import skill_set
from coach.cli.written import refused
from coach.piece import PieceError
from coach.plan.resize.refit import CannotRefit
from coach.text import one_line


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument(
        "project", nargs="?", default="", metavar="FILE", help="the project to quote first"
    )


def run(options: argparse.Namespace) -> int:
    """Open the desk; 2 if there is no terminal, or the project cannot be read."""
    if not terminal.is_there():
        return refused("the desk needs a terminal; `coach orders` and `coach quote FILE` print.")
    names = [path.stem for path in shelf()]
    names = [options.project, *(name for name in names if name != options.project)]
    names = [name for name in names if name]
    read = lru_cache(maxsize=32)(lambda name: read_in_hands(name, skill_set))
    try:
        if read(names[0]) is None:
            return 1
    except (NoSuchProject, PieceError) as error:
        return refused(str(error))
    return _opened(names, read)


def _opened(names: list[str], read: Callable[[str], InHands | None]) -> int:
    # The screen is loaded only to be shown: shells ask every command for its arguments.
    from coach.tui.desk_app import Chosen, DeskApp  # noqa: PLC0415 - see above
    from coach.tui.drawing.cells import ASCII  # noqa: PLC0415 - the same
    from coach.tui.layout.styled_text import Inks  # noqa: PLC0415 - the same

    setup, prices, unit = set_up(os.environ), prices_if_sound(), unit_of(None)

    def ways(name: str) -> list[str]:
        made = read(name)
        return list(made.plan.project.colourways) if made else []

    def told(chosen: Chosen) -> list[str]:
        made = read(chosen.project)
        if made is None:
            return [f"{one_line(chosen.project)} has problems; `coach check` tells them."]
        try:
            return desk_lines(made, chosen.copies, chosen.colourway, prices, unit)
        except (CannotRefit, PieceError) as error:
            return [str(error)]

    inks = Inks(setup.palette, plain=setup.glyphs is ASCII)
    app = DeskApp(inks, names, ways, told)
    return app.run() or 0
