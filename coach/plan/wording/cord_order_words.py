"""The order of cords from the left in few words: as runs of one cord, and as patterns."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import Final

from coach.plan.plan_model import Plan
from coach.text import join_words

MOST: Final = 12
"""How many stretches are told as they come; more of them are folded into patterns."""
_LONGEST: Final = 12  # runs in a pattern: more are no pattern that an eye would see

Run = tuple[str, int]
"""A cord, and how many neighbours are of it."""


@dataclass(frozen=True, slots=True)
class CordRun:
    """Neighbours from place `first` to `last`: runs of one cord each, repeated."""

    first: int
    last: int
    pattern: tuple[Run, ...]


def from_left(plan: Plan, most: int | None = None) -> str:
    """Return which cords hang where at the start: strand 1 reed; strands 2-3 clay.

    Args:
        plan: The plan.
        most: How many stretches to tell at most, None for all.
    """
    return cords_from_left_words(
        [plan.strands[strand].cord for strand in plan.start], "strand", most
    )


def cords_from_left_words(
    cords: Sequence[str], what: str = "strand", most: int | None = None
) -> str:
    """Return which cords lie where, "" for none.

    Args:
        cords: The cord at each place, from the left.
        what: The word for a place, in the singular.
        most: How many stretches of one cord to tell, None for all.
    """
    if not cords:
        return ""
    found = cord_runs(cords)
    shown = [_told(stretch, what) for stretch in found[:most]]
    rest = len(cords) - found[len(shown) - 1].last if shown else 0
    more = f"; {rest} more {what}s, which `coach words` lists" if rest else ""
    return f"From the left: {'; '.join(shown)}{more}."


def cord_runs(cords: Sequence[str]) -> list[CordRun]:
    """Return the order of cords as runs, or as patterns where the runs are more than `MOST`."""
    runs = [(cord, len(list(run))) for cord, run in groupby(cords)]
    found: list[CordRun] = []
    at, place = 0, 1
    while at < len(runs):
        length, times = _pattern(runs[at:]) if len(runs) > MOST else (1, 1)
        pattern = tuple(runs[at : at + length])
        last = place + times * sum(number for _, number in pattern) - 1
        found.append(CordRun(place, last, pattern))
        at, place = at + length * times, last + 1
    return found


def _pattern(runs: Sequence[Run]) -> tuple[int, int]:
    """Return the length, in runs, and the repeats of the pattern that covers most from here."""
    best = (1, 1)
    for length in range(2, min(_LONGEST, len(runs) // 2) + 1):
        times = 1
        while runs[times * length : (times + 1) * length] == runs[:length]:
            times += 1
        if times > 1 and length * times > best[0] * best[1]:
            best = (length, times)
    return best


def _told(stretch: CordRun, what: str) -> str:
    places = (
        f"{what} {stretch.first}"
        if stretch.first == stretch.last
        else f"{what}s {stretch.first}-{stretch.last}"
    )
    if len(stretch.pattern) == 1:
        return f"{places} {stretch.pattern[0][0]}"
    runs = [f"{number} {cord}" if number > 1 else cord for cord, number in stretch.pattern]
    return f"{places} in turn {join_words(runs)}"


def ranges_in_words(places: Sequence[int]) -> str:
    """Return places as ranges: `1-4, 7 and 9-12`; evenly spaced ones as `every 2nd of 1-23`."""
    steps = {after - before for before, after in pairwise(places)}
    if len(places) > 3 and len(steps) == 1 and steps != {1}:  # noqa: PLR2004 - three are named
        return f"every {_ordinal(steps.pop())} from {places[0]} to {places[-1]}"
    ranges: list[list[int]] = []
    for place in places:
        if ranges and ranges[-1][1] == place - 1:
            ranges[-1][1] = place
        else:
            ranges.append([place, place])
    return join_words([f"{low}-{high}" if high > low else f"{low}" for low, high in ranges])


def _ordinal(number: int) -> str:
    tens = number % 100 in (11, 12, 13)
    return f"{number}{'th' if tens else {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th')}"
