"""The text of a project file from what was hung and knotted."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from coach.recording.fold import Block, Entry, Repeat, folded


@dataclass(frozen=True, slots=True)
class Hung:
    """What hangs before the first knot: cords by name as flow mappings, and the start."""

    cords: Mapping[str, str]
    start: str
    title: str = "Knotted without a pattern"


@dataclass(slots=True)
class _Parts:
    """Parts as they are named, each written once."""

    names: dict[tuple[Entry, ...], str] = field(default_factory=dict)
    taken: frozenset[str] = frozenset()

    def name(self, part: tuple[Entry, ...]) -> str:
        if part not in self.names:
            number = len(self.names) + 1
            while f"part {number}" in self.taken:
                number += 1
            self.names[part] = f"part {number}"
            self.taken |= {f"part {number}"}
        return self.names[part]


def work_lines(
    blocks: Sequence[Block], *, fold: bool, taken: frozenset[str] = frozenset()
) -> tuple[list[str], dict[str, list[str]]]:
    """Return the steps of the work and of each part, a line each without its dash.

    Args:
        blocks: What was knotted.
        fold: Whether repeats are found and folded into parts; mirrored steps are parts anyway.
        taken: Names that parts of the file have already.
    """
    parts = _Parts(taken=taken)
    entries = folded(blocks) if fold else _one_by_one(blocks)
    work = [_line(entry, parts) for entry in entries]
    written: dict[str, list[str]] = {}
    while len(written) < len(parts.names):  # parts may hold parts
        for part, name in list(parts.names.items()):
            if name not in written:
                written[name] = [_line(entry, parts) for entry in part]
    return work, written


def _one_by_one(blocks: Sequence[Block]) -> list[Entry]:
    return [
        entry
        for block in blocks
        for entry in ([Repeat(block.steps, mirrored=True)] if block.mirrored else block.steps)
    ]


def _line(entry: Entry, parts: _Parts) -> str:
    if isinstance(entry, str):
        return entry
    times = f", times: {entry.times}" if entry.times > 1 else ""
    mirror = ", mirror: every second" if entry.alternates else ""
    mirror = ", mirror: all" if entry.mirrored else mirror
    return f"use: {parts.name(entry.part)}{times}{mirror}"


def text_of(
    hung: Hung, blocks: Sequence[Block], measured: Sequence[str] = (), *, fold: bool = True
) -> str:
    """Return the whole project file of what was hung and knotted."""
    work, parts = work_lines(blocks, fold=fold)
    lines = ["coach: 1", f"title: {hung.title}", "cords:"]
    lines += [f"  {name}: {cord}" for name, cord in hung.cords.items()]
    lines += [f"start: {hung.start}", "work:", *(f"  - {{{step}}}" for step in work)]
    if parts:
        lines.append("parts:")
        for name, steps in parts.items():
            lines += [f"  {name}:", *(f"    - {{{step}}}" for step in steps)]
    if measured:
        lines += ["measured:", *(f"  - {{{one}}}" for one in measured)]
    return "\n".join([*lines, ""])
