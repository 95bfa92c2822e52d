"""A maker's changes to a project's size and colours, as one value that can be stored."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any, Final

_COLOUR: Final = re.compile(r"#[0-9a-f]{6}")
_NOTHING: Mapping[str, float] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Wish:
    """Changed figures by name: `repeats` of parts, `cords` in mm, `times` and `lengths` of steps.

    A cord named "" stands for all cords; lengths are in mm. `colours` are those of a colourway,
    `#rrggbb` by cord.
    """

    repeats: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    cords: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    times: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    lengths: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    colours: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    def __bool__(self) -> bool:
        """Whether anything is wished for."""
        return bool(self.repeats or self.cords or self.times or self.lengths or self.colours)

    def speaks_of(self, name: str) -> bool:
        """Return whether this changes a part or a named step."""
        return name in {*self.repeats, *self.times, *self.lengths}

    def also(self, other: "Wish") -> "Wish":
        """Return both wishes together; the other one wins where both change the same thing."""
        return replace(
            self,
            repeats={**self.repeats, **other.repeats},
            cords={**({} if "" in other.cords else self.cords), **other.cords},
            times={**self.times, **other.times},
            lengths={**self.lengths, **other.lengths},
            colours={**self.colours, **other.colours},
        )

    def to_data(self) -> dict[str, dict[str, Any]]:
        """Return the wish as plain data for JSON; `colours` only where there are any."""
        return {
            "repeats": dict(self.repeats),
            "cords": dict(self.cords),
            "times": dict(self.times),
            "lengths": dict(self.lengths),
            **({"colours": dict(self.colours)} if self.colours else {}),
        }

    @classmethod
    def from_data(cls, data: Mapping[str, Mapping[str, Any]]) -> "Wish":
        """Return the wish that `to_data` made this from. Raises ValueError."""
        try:
            return cls(
                {str(name): int(n) for name, n in data.get("repeats", {}).items()},
                {str(name): float(mm) for name, mm in data.get("cords", {}).items()},
                {str(name): int(n) for name, n in data.get("times", {}).items()},
                {str(name): float(mm) for name, mm in data.get("lengths", {}).items()},
                {str(name): _colour(c) for name, c in data.get("colours", {}).items()},
            )
        except (AttributeError, TypeError) as error:
            raise ValueError("this is no wish") from error


def _colour(value: object) -> str:
    """Return a colour `#rrggbb`. Raises ValueError for anything else."""
    if isinstance(value, str) and _COLOUR.fullmatch(value):
        return value
    raise ValueError("this is no wish")
