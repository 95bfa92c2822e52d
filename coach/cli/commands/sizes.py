"""`coach sizes`: printed girths of adults, the ease that pieces are worn with, and the limits."""

import argparse
from collections.abc import Iterator
from textwrap import wrap

from coach.cli.bench_setup import add_units, chosen_units
from coach.cli.output import WIDTH
from coach.plan.resize.body_sizes import BODIES, LIMITS, PRINTED, PrintedSize
from coach.quantities import show_length


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    add_units(parser)


def run(options: argparse.Namespace) -> int:
    """Print the table."""
    print("\n".join(size_table(chosen_units(options.units))))
    return 0


def size_table(unit: str) -> Iterator[str]:
    """Yield the table in lines; lengths in `unit`."""
    yield f"{'':8}{'':8}{'mean':>10}   {'nine in ten from, to':<24}"
    for size in PRINTED:
        mean = show_length(size.mean_mm, unit)
        yield f"{size.measure:8}{size.people:8}{mean:>10}   {_span(size, unit)}".rstrip()
    yield ""
    yield "Ease added (common practice, no source); --ease sets another"
    for body in BODIES:
        yield f"{body.name:8}{show_length(body.ease_mm, unit):>8}  {body.worn}"
    yield ""
    yield from wrap(LIMITS, WIDTH)


def _span(size: PrintedSize, unit: str) -> str:
    if size.span_mm is None:
        return ""
    low, high = size.span_mm
    return f"{show_length(low, unit)} to {show_length(high, unit)}"
