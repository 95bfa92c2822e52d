"""Which happenings still hold: a choice may be taken back or made again."""

from collections.abc import Sequence
from typing import Final

from coach.piece.events import Chosen, Happening, Picked, Repeats, Withdrew

AT_THE_BENCH: Final = (Picked, Chosen)
"""What is chosen at the bench, one key for each, and taken back by one."""

_CHANGE_WHAT_COMES: Final = (Picked, Chosen, Repeats)


def in_force(happenings: Sequence[Happening]) -> tuple[Happening, ...]:
    """Return the happenings that the plan follows.

    A choice for a later place is dropped once something before it is chosen differently: that place
    may be another one then.
    """
    if not any(isinstance(happening, AT_THE_BENCH) for happening in happenings):
        return tuple(happenings)
    kept: list[Happening] = []
    for happening in happenings:
        if isinstance(happening, Withdrew):
            last = last_chosen(kept)
            kept = [one for one in kept if one is not last]
            continue
        if isinstance(happening, _CHANGE_WHAT_COMES):
            kept = [one for one in kept if not _is_later(one, happening.at_done)]
        kept.append(happening)
    return tuple(kept)


def last_chosen(happenings: Sequence[Happening]) -> Happening | None:
    """Return the last choice that still holds, None where there is none."""
    return next((one for one in reversed(happenings) if isinstance(one, AT_THE_BENCH)), None)


def _is_later(happening: Happening, done: int) -> bool:
    return isinstance(happening, Picked) and happening.at_done > done
