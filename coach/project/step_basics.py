"""What all steps are made of: the strands that they name, and what they say of themselves."""

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
    """Groups of positions, in the order written; each is worked as one."""

    span: Span
    members: tuple[Positions, ...]


@dataclass(frozen=True, slots=True)
class About:
    """What every step may say of itself. `takes_s` is (least, most).

    `note_once` is said in the first repeat only. `open_to` names what the maker chooses at the
    bench: the keys whose figures stand for `about so many`, or for `so many or more`.
    """

    span: Span
    note: str = ""
    name: str = ""
    takes_s: tuple[float, float] | None = None
    note_once: str = ""
    open_to: tuple[Openness, ...] = ()
