"""Questioning surprising measurements, with likely reasons, before they are believed."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final, Literal

from coach.pace.cord_learning import SURPRISING, is_implausible, surprise
from coach.piece.events import Measured
from coach.piece.learning.estimates import Expected, Known
from coach.plan.doubt.joint_ranges import Z80

Why = Literal["inches", "centimetres", "a tenth", "ten times", "a rest", "the work in it", "loaded"]

_NEAR: Final = (
    2.0  # predictive deviations within which another reading of a measure is a likely one
)
_READ: Final[tuple[tuple[Why, float], ...]] = (
    ("inches", 2.54), ("centimetres", 1 / 2.54), ("a tenth", 10.0), ("ten times", 0.1),
)  # fmt: skip
_LOADED: Final = (1.02, 1.35)  # how much longer work hangs under load: rough, no source


@dataclass(frozen=True, slots=True)
class Reason:
    """A possible mistake, and the measurement that would then be right.

    `inches`: read in inches and taken for centimetres; `centimetres`: the other way about.
    `a tenth`: only a tenth of it was written, as cm for mm; `ten times`: the other way about.
    `a rest`: it is the rest of that strand. `the work in it`: the work above was measured along.
    `loaded`: the work hung under load.
    """

    why: Why
    measure: Measured


@dataclass(frozen=True, slots=True)
class MeasureDoubt:
    """A measurement not believed yet: how far it is off, the expected value, the reasons.

    Kept all the same, it is stored with its `doubt`, and then weighs little.
    """

    doubt: float
    expected: Expected
    reasons: tuple[Reason, ...]


def doubt_measure(now: Known, seen: Measured) -> MeasureDoubt | None:
    """Return what to ask about a measurement, None where it can be believed.

    It is questioned beyond `SURPRISING` of its own predictive deviations, or where it asks for a
    cord that is thicker in its knots than by its name, or thinner than any is.
    """
    sight = now.sight_of(seen)
    off = sight.seen_mm - sight.expected_mm
    if _off(now, seen) <= SURPRISING and not is_implausible(now.ahead, sight, off):
        return None
    likely = seen.length_mm + (off if seen.strand else -off)
    reach = Z80 * now.ahead.spread(sight.slopes)
    expected = Expected(max(0.0, likely - reach), likely, likely + reach)
    others = sorted(_others(now, seen), key=lambda reason: _off(now, reason.measure))
    return MeasureDoubt(max(_off(now, seen), SURPRISING), expected, tuple(others))


def _off(now: Known, seen: Measured) -> float:
    """Return by how many predictive deviations a measurement is off."""
    sight = now.sight_of(seen)
    return surprise(now.ahead, sight, sight.seen_mm - sight.expected_mm)


def _others(now: Known, seen: Measured) -> Iterator[Reason]:
    """Yield the other readings of a measurement that would be likely."""
    for reason in (*_as_read(seen), *_as_taken(now, seen)):
        if reason.measure.length_mm > 0 and _off(now, reason.measure) <= _NEAR:
            yield reason
    work_mm = now.length(seen.at_done).likely_mm
    longer = seen.length_mm / work_mm if work_mm else 0.0
    if not seen.strand and _LOADED[0] <= longer <= _LOADED[1] and seen.lying != "loaded":
        yield Reason("loaded", replace(seen, lying="loaded"))


def _as_read(seen: Measured) -> Iterator[Reason]:
    for why, times in _READ:
        yield Reason(why, replace(seen, length_mm=seen.length_mm * times))


def _as_taken(now: Known, seen: Measured) -> Iterator[Reason]:
    """Yield the rests of other strands that it might be, the nearest one, and the work in it."""
    rests = [
        replace(seen, strand=now.plan.strands[strand].id, lying="")
        for strand in now.rests
        if now.plan.strands[strand].id != seen.strand
    ]
    if rests:
        yield Reason("a rest", min(rests, key=lambda rest: _off(now, rest)))
    if seen.strand:
        work_mm = now.length(seen.at_done).likely_mm
        yield Reason("the work in it", replace(seen, length_mm=seen.length_mm - work_mm))
