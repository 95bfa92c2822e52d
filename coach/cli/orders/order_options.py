"""The options of an order: how many, in which colours and sizes."""

import argparse

from coach.cli.options.size_options import add_size_options


def add_order_options(parser: argparse.ArgumentParser) -> None:
    """Add the options for numbers, colours and sizes."""
    order = parser.add_argument_group("how many")
    order.add_argument(
        "--copies", metavar="NUMBER", default="",
        help="how many, such as 12, or of which lengths: '4 of 12 cm, 8 of 15 cm'",
    )  # fmt: skip
    order.add_argument(
        "--colourway", metavar="NAME[=NUMBER]", action="append", default=[],
        help="all of them in a colourway, or so many, such as dusk=6 or 'dusk=6 of 15 cm'",
    )  # fmt: skip
    add_size_options(parser)


def whole_colourway(options: argparse.Namespace) -> str:
    """Return the colourway of all copies as typed, "" for none."""
    named: list[str] = options.colourway
    return named[0] if len(named) == 1 and "=" not in named[0] else ""
