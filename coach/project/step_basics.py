"""What all steps share: positions, groups, and general keys."""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from coach.yaml_reader.diagnostics import Span

Openness: TypeAlias = tuple[
    Literal["times", "turns", "length", "knotter"], Literal["about", "more"]
]
"""What is chosen at the bench, and whether its figure is about right or the least."""


@dataclass(frozen=True, slots=True)
class Positions:
    """One position list: `items` in the order written, or `everything` for `all`."""

    span: Span
    items: tuple[int, ...] = ()
    everything: bool = False


@dataclass(frozen=True, slots=True)
class Groups:
    """Groups of positions, in the order written."""

    span: Span
    members: tuple[Positions, ...]


@dataclass(frozen=True, slots=True)
class About:
    """The general keys of a step. `takes_s` is (least, most).

    `note_once` is only shown in the first repeat. `open_to` names the figures that the maker
    chooses at the bench: those written as `about so many`, or `so many or more`.
    """

    span: Span
    note: str = ""
    name: str = ""
    takes_s: tuple[float, float] | None = None
    note_once: str = ""
    open_to: tuple[Openness, ...] = ()
