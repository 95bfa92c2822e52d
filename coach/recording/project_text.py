"""The text of a project file from what was hung and knotted."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from coach.recording.repeat_folding import Block, Entry, Repeat, fold_repeats
from coach.recording.sentence_words import in_quotes

OPEN: Final = 'do: "Say what you knot next."'
"""The step that stands where the work goes on; a file whose work ends with it is open."""


@dataclass(frozen=True, slots=True)
class StartingCords:
    """What hangs before the first knot: cords by name as flow mappings, and the start."""

    cords: Mapping[str, str]
    start: str
    title: str = "Knotted without a pattern"

    def text(self) -> str:
        """Return the project file of it, with only the open step as its work."""
        cords = [f"  {name}: {cord}" for name, cord in self.cords.items()]
        head = ["coach: 1", f"title: {in_quotes(self.title)}", "cords:", *cords]
        return "\n".join([*head, f"start: {self.start}", "work:", f"  - {{{OPEN}}}", ""])


@dataclass(slots=True)
class _Parts:
    """Parts as they are named, each written once."""

    names: dict[tuple[Entry, ...], str] = field(default_factory=dict)
    taken: frozenset[str] = frozenset()
    wanted: Sequence[str] = ()

    def name(self, part: tuple[Entry, ...]) -> str:
        if part not in self.names:
            number = len(self.names)
            name = self.wanted[number] if number < len(self.wanted) else f"part {number + 1}"
            self.names[part] = self._free(name)
            self.taken |= {self.names[part]}
        return self.names[part]

    def _free(self, name: str) -> str:
        known = {taken.casefold() for taken in self.taken}
        free, number = name, 1
        while free.casefold() in known:
            number += 1
            free = f"{name} {number}"
        return free


def entries_of(blocks: Iterable[Block], *, fold: bool) -> tuple[Entry, ...]:
    """Return the entries of the work; with `fold`, repeats become parts."""
    if fold:
        return fold_repeats(blocks)
    return tuple(
        entry
        for block in blocks
        for entry in ([Repeat(block.steps, mirrored=True)] if block.mirrored else block.steps)
    )


def work_lines(
    entries: Sequence[Entry], *, taken: frozenset[str] = frozenset(), names: Sequence[str] = ()
) -> tuple[list[str], dict[str, list[str]]]:
    """Return the steps of the work and of each part, a line each without its dash.

    Args:
        entries: The work, repeats in it as parts.
        taken: Names that the file's parts already have.
        names: Names for the new parts, in the order of `parts_of`.
    """
    parts = _Parts(taken=taken, wanted=names)
    work = [_line(entry, parts) for entry in entries]
    written: dict[str, list[str]] = {}
    while len(written) < len(parts.names):  # parts may hold parts
        for part, name in list(parts.names.items()):
            if name not in written:
                written[name] = [_line(entry, parts) for entry in part]
    return work, written


def _line(entry: Entry, parts: _Parts) -> str:
    if isinstance(entry, str):
        return entry
    times = f", times: {entry.times}" if entry.times > 1 else ""
    mirror = ", mirror: every second" if entry.alternates else ""
    mirror = ", mirror: all" if entry.mirrored else mirror
    return f"use: {in_quotes(parts.name(entry.part))}{times}{mirror}"
