"""`coach swatch FILE`: ten knots to tie and measure, and the cut list worked out again."""

import argparse
import re
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import Final, TypeAlias

from coach.cli.bench_setup import add_units, chosen_units
from coach.cli.file_output import refuse_call
from coach.cli.open_store import open_store
from coach.cli.options.cutting_options import add_cutting_options, sure_of
from coach.cli.options.size_options import (
    add_copies,
    add_size_options,
    copies_of,
    cords_wished,
    refit_as_asked,
)
from coach.cli.project_files import read_file
from coach.cli.project_finder import NoSuchProject, add_project
from coach.cli.reports.swatch_page import (
    LENGTH_ASKED,
    Planned,
    how_to_tie,
    measure_again_line,
    measured_block,
    swatch_outcome,
    took_asked,
)
from coach.piece import PieceError, Store, SystemClock
from coach.piece.beliefs import Beliefs
from coach.piece.learning.carry_over import carry_over, starting_beliefs
from coach.piece.learning.estimates import in_hands
from coach.piece.learning.swatches import (
    Doubtful,
    beliefs_from,
    keep_swatch,
    learnt_from,
    question_length,
    question_took,
)
from coach.plan.cord.swatch import TrialSwatch, swatch_for
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit, as_wished
from coach.quantities import QuantityError, length_mm
from coach.report.plan_report import report_of
from coach.text import one_line

NOTHING: Final = "Nothing was measured, so nothing is changed. Come back when the knots are tied."
_BARE: Final = re.compile(r"[0-9]+(\.[0-9]+)?")
Questioned: TypeAlias = Callable[[float], Doubtful | None]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with: what was measured, another size, stock in hand."""
    add_project(parser)
    measures = parser.add_argument_group("what was measured; asked for if left out")
    measures.add_argument("--run", metavar="LENGTH", default="", help="how long the knots came out")
    measures.add_argument("--took", metavar="LENGTH", default="", help="what the ends took")
    add_size_options(parser)
    add_cutting_options(parser)
    add_copies(parser)
    add_units(parser)


def run(options: argparse.Namespace) -> int:
    """Guide through a swatch; 1 if the file has errors, 2 if it cannot be tied or measured."""
    try:
        plan = read_file(options.project)
        if plan is None:
            return 1
        with _store() as store:
            return _guided(plan, store, options)
    except (NoSuchProject, CannotRefit) as error:
        return refuse_call(str(error))


@contextmanager
def _store() -> Iterator[Store | None]:
    """Open the store; if that fails, say so and go on without."""
    try:
        store = open_store()
    except PieceError as error:
        refuse_call(str(error))
        yield None
        return
    with store:
        yield store


def _guided(plan: Plan, store: Store | None, options: argparse.Namespace) -> int:
    cords = cords_wished(options)
    project = as_wished(plan.project, cords) if cords else plan.project
    before = carry_over(store, project).beliefs if store else {}
    planned = _planned(plan, before, options)
    swatch = swatch_for(planned.plan)
    if swatch is None:
        raise CannotRefit("This project has no knot that could be tried on a swatch by itself.")
    _say(how_to_tie(swatch, planned.report))
    measures = _measures(swatch, before, options, planned.report.unit)
    if measures is None:
        print(NOTHING)
        return 0
    taught = beliefs_from(swatch, learnt_from(swatch, before, *measures))
    after = _kept(store, swatch, taught, measured_block(swatch, *measures))
    beliefs = carry_over(store, project).beliefs if store and after else (
        {**before, **starting_beliefs(project, taught)}
    )  # fmt: skip
    _say(swatch_outcome(planned, _planned(plan, beliefs, options), swatch))
    return 0


def _planned(plan: Plan, beliefs: Beliefs, options: argparse.Namespace) -> Planned:
    """Return the plan asked for in the likely hands by these beliefs, and its report.

    Raises:
        CannotRefit: The size asked for is impossible.
    """
    wish = refit_as_asked(in_hands(plan, beliefs), options)
    report = report_of(
        wish.plan, unit=chosen_units(options.units), copies=copies_of(options),
        sure=sure_of(options), changes=wish.changes, one_more=True, savings=True,
    )  # fmt: skip
    return Planned(wish.plan, report)


def _kept(store: Store | None, swatch: TrialSwatch, taught: Beliefs, block: str) -> bool:
    """Store what a swatch taught; if that fails, say what to write into the file."""
    if store:
        try:
            keep_swatch(store, SystemClock(), swatch, taught, block)
        except PieceError as error:
            refuse_call(str(error))
        else:
            return True
    print(f"\nIt could not be saved. Write this into the project file instead:\n\n{block}")
    return False


def _measures(
    swatch: TrialSwatch, before: Beliefs, options: argparse.Namespace, unit: str
) -> tuple[float, float] | None:
    """Return the run's length and what the ends took, in mm, as called with or as answered."""

    def of_length(length: float) -> Doubtful | None:
        return question_length(swatch, before, length)

    def of_took(took: float) -> Doubtful | None:
        return question_took(swatch, before, took)

    if options.run or options.took:
        return (
            _called(options.run, "--run", unit, of_length),
            _called(options.took, "--took", unit, of_took),
        )
    length = _answered(LENGTH_ASKED, unit, of_length)
    took = None if length is None else _answered(took_asked(swatch), unit, of_took)
    return None if length is None or took is None else (length, took)


def _called(text: str, option: str, unit: str, questions: Questioned) -> float:
    """Return a measurement given as an option. Raises CannotRefit if it is none, or unlikely."""
    try:
        measure = _read(text, unit)
    except QuantityError as error:
        raise CannotRefit(f"{option}: {error.message} {error.hint}".strip()) from error
    doubtful = questions(measure)
    if doubtful:
        raise CannotRefit(f"{option}: {measure_again_line(doubtful, unit)}")
    return measure


def _answered(question: str, unit: str, questions: Questioned) -> float | None:
    """Ask for a measurement until it is likely or confirmed; None for an empty answer."""
    kept: float | None = None
    while True:
        print(f"{question} ({unit})", end=" ", flush=True)
        answer = one_line(sys.stdin.readline())
        if not answer:
            return None
        try:
            measure = _read(answer, unit)
        except QuantityError as error:
            print(f"  {error.message} {error.hint}".rstrip())
            continue
        doubtful = questions(measure)
        if doubtful is None or (measure == kept and not doubtful.impossible):
            return measure
        print(f"  {measure_again_line(doubtful, unit)}")
        kept = measure


def _read(text: str, unit: str) -> float:
    """Return a length in mm; a bare number is in the unit that lengths are shown in."""
    return length_mm(f"{text} {unit}" if _BARE.fullmatch(text) else text, zero=False)


def _say(lines: Iterable[str]) -> None:
    print("\n".join(lines))
