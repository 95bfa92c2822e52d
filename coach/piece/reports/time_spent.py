"""The time that a piece took, by knot and by sitting."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from coach.pace.prior import prior_s
from coach.piece.events import Counted, Event
from coach.piece.folding import fold
from coach.piece.state import State

BESIDE: Final = "unpicking and pauses for thought"
"""Work that made no tie."""


@dataclass(frozen=True, slots=True)
class KnotTime:
    """How many ties of a knot were counted, and the seconds worked on them."""

    ties: int
    worked_s: float

    @property
    def pace_s(self) -> float:
        """Mean seconds a tie."""
        return self.worked_s / self.ties if self.ties else 0.0


@dataclass(frozen=True, slots=True)
class SittingTime:
    """One sitting: when it began (UTC epoch ms), seconds worked, counts made less those undone."""

    began_ms: int
    worked_s: float
    counts: int


@dataclass(frozen=True, slots=True)
class Spell:
    """A run of counts made at once: the first one, how many of which knot, in which time."""

    first: int
    knot: str
    counts: int
    worked_s: float


@dataclass(frozen=True, slots=True)
class TimeRecord:
    """All times of a piece; `spells` are in the order in which they happened."""

    knots: Mapping[str, KnotTime]
    sittings: tuple[SittingTime, ...]
    spells: tuple[Spell, ...]


def record(events: Iterable[Event], knots: Sequence[str]) -> TimeRecord:
    """Return the times of a piece.

    Args:
        events: All its events.
        knots: The knot of each count of its plan, `""` for a count without one.

    Raises:
        Damaged: The events cannot have happened.
    """
    state, spells = State(), list[Spell]()
    ties: Counter[str] = Counter()
    worked: dict[str, float] = defaultdict(float)
    sittings: dict[int, SittingTime] = {}
    for event in events:
        after = fold(state, event)
        worked_s = (after.worked_ms - state.worked_ms) / 1000
        parts = _parts(event, knots)
        standard_s = {knot: number * prior_s(knot) for knot, number in parts.items()}
        for knot, number in parts.items():
            ties[knot] += number
            share = worked_s * standard_s[knot] / sum(standard_s.values())
            worked[knot] += share
            spells.append(Spell(state.done, knot, number, share))
        if not parts and worked_s:
            worked[BESIDE] += worked_s
        if after.sitting:
            before = sittings.get(after.sitting, SittingTime(event.at_ms, 0.0, 0))
            made = before.counts + after.done - state.done
            sittings[after.sitting] = SittingTime(before.began_ms, before.worked_s + worked_s, made)
        state = after
    times = {knot: KnotTime(ties[knot], spent) for knot, spent in worked.items()}
    worked_on = tuple(one for one in sittings.values() if one.worked_s or one.counts)
    return TimeRecord(times, worked_on, tuple(spells))


def _parts(event: Event, knots: Sequence[str]) -> Mapping[str, int]:
    """Return the knots that a count made, and how many of each."""
    if not isinstance(event, Counted):
        return {}
    if event.knot:
        return {event.knot: event.count}
    made = knots[event.from_done : event.from_done + event.count]
    return Counter(made) if made else {"": event.count}
