"""Finding repeats and mirrored repeats in what was knotted."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from coach.knots.names import FLAT_KNOTS

MOST_LONG = 40  # steps of a part that is looked for
_ON_ONE_GROUP = re.compile(
    rf"(?P<knot>knot: (?:{'|'.join(FLAT_KNOTS)}), strands: [\d-]+)(?:, times: (?P<times>\d+))?"
)


@dataclass(frozen=True, slots=True)
class Block:
    """The steps of one sentence, in order; `mirrored` ones with left and right swapped.

    `said` is the sentence; blocks of different sentences may be the same work.
    """

    steps: tuple[str, ...]
    mirrored: bool = False
    said: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Repeat:
    """A repeated part; every second repeat is mirrored if it `alternates`."""

    part: tuple["Entry", ...]
    times: int = 1
    mirrored: bool = False
    alternates: bool = False


Entry: TypeAlias = str | Repeat
"""A step as a project file has it, or a part and how often it is worked."""


def fold_repeats(blocks: Iterable[Block]) -> tuple[Entry, ...]:
    """Return the work with its repeats and mirrored repeats turned into parts.

    Unfolded again, it is step by step what was knotted.
    """
    entries: list[Entry] = []
    for block in blocks:
        if block.mirrored:
            entries.append(Repeat(block.steps, mirrored=True))
        else:
            entries.extend(block.steps)
    return _repeats(_alternating(_more_often(entries)))


def _more_often(entries: Iterable[Entry]) -> list[Entry]:
    """Merge runs of the same knot on the same strands into one step."""
    found: list[Entry] = []
    for entry in entries:
        again = _knot(entry)
        before = _knot(found[-1]) if found else None
        if again and before and again[0] == before[0]:
            found[-1] = f"{again[0]}, times: {before[1] + again[1]}"
        else:
            found.append(entry)
    return found


def _knot(entry: Entry) -> tuple[str, int] | None:
    """Return a knot on one group, and how often it is tied; None for what cannot be merged.

    A chain of hitches begins anew on the left each time, so two of them are not a longer one.
    """
    match = _ON_ONE_GROUP.fullmatch(entry) if isinstance(entry, str) else None
    return (match["knot"], int(match["times"] or 1)) if match else None


def _alternating(entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """Merge steps followed by their mirror image, and so on in turn, into one repeat."""
    found: list[Entry] = []
    at = 0
    while at < len(entries):
        entry = entries[at]
        if isinstance(entry, Repeat) and entry.mirrored and _ends_with(found, entry.part):
            length = len(entry.part)
            turns, at = 2, at + 1
            while _turn(entries[at:], entry, mirrored=turns % 2 == 1):
                at += 1 if turns % 2 else length
                turns += 1
            del found[-length:]
            found.append(Repeat(entry.part, turns, alternates=True))
        else:
            found.append(entry)
            at += 1
    return tuple(found)


def _ends_with(entries: Sequence[Entry], part: tuple[Entry, ...]) -> bool:
    return tuple(entries[-len(part) :]) == part


def _turn(entries: Sequence[Entry], repeat: Repeat, *, mirrored: bool) -> bool:
    """Return whether the next repeat follows: the part mirrored, or as it is."""
    if mirrored:
        return bool(entries) and entries[0] == repeat
    part = repeat.part
    return tuple(entries[: len(part)]) == part


def _repeats(entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """Fold runs of the same steps, the one that saves most first, inside parts as well."""
    best = (0, 0, 0, 0)  # what it saves, where, how long, how often
    for length in range(1, min(MOST_LONG, len(entries) // 2) + 1):
        at = 0
        while at + 2 * length <= len(entries):
            part, times = entries[at : at + length], 1
            while entries[at + times * length : at + (times + 1) * length] == part:
                times += 1
            saves = (times - 1) * length - 1
            if times > 1 and saves > best[0]:
                best = (saves, at, length, times)
            at += max(1, (times - 1) * length)
    saves, at, length, times = best
    if not saves:
        return tuple(entries)
    part = _repeats(tuple(entries[at : at + length]))
    rest = _repeats(tuple(entries[at + times * length :]))
    return (*_repeats(tuple(entries[:at])), Repeat(part, times), *rest)
