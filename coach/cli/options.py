"""The options of a plan; apart from the verb, so that the parser loads nothing else."""

import argparse

GIRTHS = ("wrist", "ankle", "neck", "waist", "head")


def asks(options: argparse.Namespace) -> bool:
    """Return whether a call wishes for another size."""
    girths = any(getattr(options, name) for name in GIRTHS)
    return bool(girths or options.length or options.repeats or options.cord)


def add_size_options(parser: argparse.ArgumentParser) -> None:
    """Add what another size can be wished for by."""
    size = parser.add_argument_group("to another size")
    size.add_argument("--length", metavar="LENGTH", help="the finished length, such as '17 cm'")
    size.add_argument(
        "--repeats", metavar="PART=NUMBER", action="append", default=[],
        help="repeat a part so often, such as wave=8",
    )  # fmt: skip
    size.add_argument(
        "--cord", metavar="[CORD=]DIAMETER", action="append", default=[],
        help="in another cord, such as 1.5mm or reed=1.5mm",
    )  # fmt: skip
    for name in GIRTHS:
        whom = f"{'an' if name == 'ankle' else 'a'} {name}"
        size.add_argument(
            f"--{name}",
            metavar="GIRTH",
            help=f"to fit {whom}, with the usual ease (see coach sizes)",
        )
    size.add_argument("--ease", metavar="LENGTH", help="another ease than the usual one")


def add_plan_options(parser: argparse.ArgumentParser) -> None:
    """Add all that a plan can be asked for: another size, stock in hand, copies, units."""
    add_size_options(parser)
    cord = parser.add_argument_group("cord")
    cord.add_argument(
        "--hank", metavar="[CORD=]AMOUNTS", action="append", default=[],
        help="balls or hanks in hand, such as 'clay=25 m, 12 m' or 'reed=500 g'",
    )  # fmt: skip
    cord.add_argument(
        "--sure", metavar="NUMBER", default="",
        help="of 100 pieces so many are to reach, such as 99; 95 if left out",
    )  # fmt: skip
    cord.add_argument("--copies", metavar="NUMBER", type=int, default=1, help="cut for so many")
    cord.add_argument(
        "--units", choices=("cm", "in"), default=None,
        help="centimetres or inches; remembered for the next time",
    )  # fmt: skip
