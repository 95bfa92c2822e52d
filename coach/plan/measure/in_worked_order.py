"""Measures of groups worked in any order: computed in the file's order, told as worked.

The groups share no strand, so each strand uses the same whichever group comes first.
"""

from array import array
from collections.abc import Sequence
from dataclasses import replace
from itertools import accumulate

from coach.plan.measure.ledger import KnotTotals
from coach.plan.measure.measure import Measures
from coach.plan.measure.places import Places
from coach.plan.steps import Ledger


def in_worked_order(measures: Measures, worked: Sequence[int]) -> Measures:
    """Return measures reordered to the counts as they are worked.

    Args:
        measures: Those of the plan in the file's order.
        worked: The index in that order of each count; counts that are no longer made are left out.
    """
    position = {count: place for place, count in enumerate(worked)}
    heights = _heights(measures, worked)
    return replace(
        measures,
        ledgers=tuple(_ledger(one, position) for one in measures.ledgers),
        height_mm=heights,
        places=_places(measures, worked, heights),
        knots=tuple(_knots(one, position) for one in measures.knots),
    )


def _ledger(ledger: Ledger, position: dict[int, int]) -> Ledger:
    at, used = _totals(ledger.at, ledger.used_mm, position)
    float_at = position.get(ledger.float_at, 0)
    return replace(ledger, at=at, used_mm=used, float_at=float_at)


def _knots(totals: KnotTotals, position: dict[int, int]) -> KnotTotals:
    found = {knot: _totals(at, used, position) for knot, (at, used) in totals.items()}
    return {knot: (list(at), list(used)) for knot, (at, used) in found.items()}


def _totals(
    at: Sequence[int], used_mm: Sequence[float], position: dict[int, int]
) -> tuple[Sequence[int], Sequence[float]]:
    """Return running totals by position: what each count adds stays with that count."""
    before = (0.0, *used_mm)
    added = [
        (position[count], mm - was)
        for count, mm, was in zip(at, used_mm, before, strict=False)
        if count in position
    ]
    if [place for place, _ in added] == list(at):
        return at, used_mm
    added.sort()
    return (
        array("q", [place for place, _ in added]),
        array("d", accumulate(mm for _, mm in added)),
    )


def _heights(measures: Measures, worked: Sequence[int]) -> Sequence[float]:
    """Return the length after 0, 1, 2 ... counts: how far down the lowest group has got."""
    was, reach = measures.height_mm, _reach(measures)
    heights = array("d", [was[0]])
    furthest, last = -1, len(was) - 1
    for place, count in enumerate(worked):
        furthest = max(furthest, count)
        settled = furthest == place  # as many and the same counts are made as in the file's order
        heights.append(was[place + 1] if settled else max(heights[-1], reach[count]))
    return heights if len(worked) < last else array("d", [*heights[:-1], was[-1]])


def _reach(measures: Measures) -> Sequence[float]:
    """Return how far down each count reaches by itself, 0 for one that ties nothing."""
    places, was = measures.places, measures.height_mm
    # Of flat work the height is a diameter: twice as far out, and the first round's own.
    flat = was[-1] > places.made_mm[-1]
    middle = was[-1] / 2 - places.made_mm[-1] if flat else 0.0
    return [
        (2 * (middle + low) if flat else low) if low > top else 0.0
        for top, low in zip(places.top_mm, places.bottom_mm, strict=True)
    ]


def _places(measures: Measures, worked: Sequence[int], heights: Sequence[float]) -> Places:
    places = measures.places
    return replace(
        places,
        top_mm=array("d", [places.top_mm[count] for count in worked]),
        bottom_mm=array("d", [places.bottom_mm[count] for count in worked]),
        made_mm=heights if places.made_mm is measures.height_mm else _radial(measures, heights),
    )


def _radial(measures: Measures, heights: Sequence[float]) -> Sequence[float]:
    """Return the radius of flat work after each count, from its diameters."""
    middle = measures.height_mm[-1] / 2 - measures.places.made_mm[-1]
    return array("d", [max(0.0, mm / 2 - middle) if mm else 0.0 for mm in heights])
