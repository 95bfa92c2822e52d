"""Paces as plain data for JSON, to be stored from piece to piece."""

from collections.abc import Mapping
from dataclasses import replace
from math import exp
from types import MappingProxyType
from typing import Any, Final

from coach.pace.estimate import (
    DAY,
    HAND,
    MOST_UNKNOWNS,
    PRACTICE,
    Paces,
    Timed,
    initial_paces,
    learn_stretch,
)
from coach.pace.gaussian import Joint
from coach.pace.work_amount import WorkAmount, ties

_NONE: Final = "these are no paces"
FARTHEST: Final = 50.0  # of log factors and variances: beyond that seconds are no number any more
MOST_SECONDS: Final = 1e18  # of all amounts: more than a million counts of thirty years each


def to_data(paces: Paces) -> dict[str, Any]:
    """Return the paces as plain data that JSON stores exactly."""
    known = paces.known
    return {
        "unknowns": list(known.unknowns),
        "means": list(known.means),
        "covariance": [list(row) for row in known.covariance],
        "made": dict(paces.made),
        "tie_variance": paces.tie_variance,
        "looks": paces.looks,
        "open": paces.open and [dict(paces.open.work.standard_s), paces.open.work.squares,
                                paces.open.seconds, paces.open.least_s],
    }  # fmt: skip


def from_data(data: Mapping[str, Any]) -> Paces:
    """Return the paces that `to_data` made this from.

    Raises:
        ValueError: The data is not what `to_data` writes, or wrote in its first form.
    """
    try:
        paces = _of_first_form(data["seen"]) if "seen" in data else _read(data)
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise ValueError(_NONE) from error
    if not sound(paces):
        raise ValueError(_NONE)
    return paces


def _read(data: Mapping[str, Any]) -> Paces:
    covariance = tuple(tuple(map(float, row)) for row in data["covariance"])
    known = Joint(tuple(map(str, data["unknowns"])), tuple(map(float, data["means"])), covariance)
    under_way = None
    if data["open"] is not None:
        standard_s, *amounts = data["open"]
        squares, seconds, least_s = map(float, amounts)
        under_way = Timed(WorkAmount(_seconds(standard_s), squares), seconds, least_s)
    return Paces(
        known, _seconds(data["made"]), float(data["tie_variance"]), float(data["looks"]), under_way
    )


def _seconds(data: Mapping[str, Any]) -> Mapping[str, float]:
    return MappingProxyType({str(kind): float(seconds) for kind, seconds in data.items()})


def _of_first_form(seen: Mapping[str, Any]) -> Paces:
    """Return paces stored in the first form: a mean of log(seconds / the trade's) by knot."""
    paces = initial_paces()
    for knot, one in seen.items():
        work = ties(str(knot), max(1, round(one["ties"])))
        seconds = work.hands_s * exp(float(one["mean"]))
        paces = learn_stretch(replace(paces, open=Timed(work, seconds)))
    return paces


def sound(paces: Paces) -> bool:
    """Return whether paces survive storing, so that a piece can begin with them."""
    known, size = paces.known, len(paces.known.unknowns)
    square = len(known.means) == size and [len(row) for row in known.covariance] == [size] * size
    under_way = paces.open or Timed(WorkAmount(), 0.0)
    amounts = [
        *paces.made.values(), *under_way.work.standard_s.values(), under_way.work.squares,
        under_way.seconds, under_way.least_s, paces.looks,
    ]  # fmt: skip
    return (
        square
        and size <= MOST_UNKNOWNS
        and len(set(known.unknowns)) == size
        and {HAND, DAY, PRACTICE} <= set(known.unknowns)
        and all(abs(mean) <= FARTHEST for mean in known.means)
        and all(abs(figure) <= FARTHEST for row in known.covariance for figure in row)
        and all(row[at] >= 0 for at, row in enumerate(known.covariance))
        and all(0 <= amount <= MOST_SECONDS for amount in amounts)
        and 0 < paces.tie_variance <= FARTHEST
    )
