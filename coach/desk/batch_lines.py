"""Lines of the preparation list: lengths that are alike, with their marks."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from typing import Final, TypeAlias

CUT: Final = "cut"
AGAIN: Final = "cut again"
"""The mark of a length that was cut once more, because the first was spoilt; then `cut again 2`."""

MARKS: Final = (CUT, "labelled", "hung")
"""What is done to a length before the first knot."""

Cord: TypeAlias = tuple[int, str]
"""A cut length: the number of the piece of work in this database, and the label on the cord."""


def is_cut(mark: str) -> bool:
    """Return whether a mark says that a length was cut, for the first time or again."""
    return mark == CUT or mark.startswith(AGAIN)


def cut_again(label: str, ticks: Collection[tuple[str, str]]) -> tuple[str, str]:
    """Return the tick for cutting a length again, after those that are set."""
    before = times_again(label, ticks)
    return label, f"{AGAIN} {before + 1}" if before else AGAIN


def times_again(label: str, ticks: Collection[tuple[str, str]]) -> int:
    """Return how often a length was cut again."""
    return sum(what == label and mark.startswith(AGAIN) for what, mark in ticks)


def last_again(label: str, ticks: Collection[tuple[str, str]]) -> tuple[str, str] | None:
    """Return the last tick for cutting a length again, None where there is none."""
    times = times_again(label, ticks)
    return (label, f"{AGAIN} {times}" if times > 1 else AGAIN) if times else None


def cut_key(label: str, mark: str) -> str:
    """Return the key of a cut length among all that was cut for a piece."""
    return label if mark == CUT else f"{label} {mark}"


@dataclass(frozen=True, slots=True)
class BatchLine:
    """Lengths that are alike: of one cord in one colour, cut to one length, under one label.

    `what` is the cord's name on a shop label, `label` what is written on each length; `hung` says
    whether they hang before the work begins.
    """

    cord: str
    what: str
    label: str
    length_mm: float
    hung: bool
    pieces: tuple[Cord, ...]
    done: Mapping[str, frozenset[Cord]] = field(default_factory=dict)

    @property
    def marks(self) -> tuple[str, ...]:
        """What is to be done to each before the first knot."""
        return MARKS if self.hung else MARKS[:2]

    def ticked(self, mark: str) -> int:
        """Return how many of them have a mark: cut, labelled, hung."""
        return len(self.done.get(mark, ()))

    def open(self, mark: str) -> tuple[Cord, ...]:
        """Return those that do not have it, in the order of the pieces."""
        have = self.done.get(mark, frozenset())
        return tuple(one for one in self.pieces if one not in have)

    @property
    def again(self) -> tuple[tuple[Cord, str], ...]:
        """Each extra cut of one of these lengths, with its mark, in order."""
        marks = sorted((len(mark), mark) for mark in self.done if mark.startswith(AGAIN))
        return tuple((cord, mark) for _, mark in marks for cord in sorted(self.done[mark]))

    def next_again(self) -> tuple[Cord, str] | None:
        """Return the tick for cutting the last recut length once more, None before the cut."""
        cut = [one for one in self.pieces if one not in self.open(CUT)]
        if not cut:
            return None
        ticks = [(self.label, mark) for cord, mark in self.again if cord == cut[-1]]
        return cut[-1], cut_again(self.label, ticks)[1]

    def with_ticks(self, cords: Collection[Cord], mark: str, *, back: bool) -> "BatchLine":
        """Return the line after some of its lengths got a mark, or lost it.

        Args:
            cords: The lengths; those of other lines are ignored.
            mark: "cut", "labelled" or "hung".
            back: Whether they lose it.
        """
        have, own = self.done.get(mark, frozenset()), frozenset(cords) & frozenset(self.pieces)
        return replace(self, done={**self.done, mark: have - own if back else have | own})


@dataclass(frozen=True, slots=True)
class BatchList:
    """All that is to be prepared: lengths of cord, and the number of each finding."""

    lines: tuple[BatchLine, ...]
    findings: Mapping[str, int]

    def with_ticks(self, cords: Collection[Cord], mark: str, *, back: bool) -> "BatchList":
        """Return the list after some lengths got a mark, or lost it.

        Args:
            cords: The lengths.
            mark: "cut", "labelled" or "hung".
            back: Whether they lose it.
        """
        lines = (line.with_ticks(cords, mark, back=back) for line in self.lines)
        return BatchList(tuple(lines), self.findings)
