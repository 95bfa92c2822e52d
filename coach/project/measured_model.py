"""The sizes that a project file states: the length aimed for, and what was measured."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from coach.yaml_reader.diagnostics import Span


@dataclass(frozen=True, slots=True)
class Size:
    """The stated size of the finished piece, and what changes its length.

    `length_mm` was measured, with the repeats as written; `wish_mm` is still to be met.
    """

    span: Span
    length_mm: float | None = None
    state: str = "relaxed"
    vary: str = ""
    least: int = 1
    step: int = 1
    closing_mm: float = 0.0  # of the length, what does not go round the body
    wish_mm: float | None = None  # repeats are chosen for it


@dataclass(frozen=True, slots=True)
class MeasuredPart:
    """A maker's own figures for one repeat of a part; `uses_mm` is per strand, by cord."""

    span: Span
    part: str
    length_mm: float | None = None
    uses_mm: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class Swatch:
    """A maker's own figures for a run of one knot in one cord."""

    span: Span
    knot: str
    cord: str
    times: int
    uses_mm: float | None = None
    length_mm: float | None = None
