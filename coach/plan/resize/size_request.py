"""What a maker wishes otherwise than the file has it, as one value that can be kept."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

_NOTHING: Mapping[str, float] = MappingProxyType({})


class Wish(NamedTuple):
    """Other figures by name: `repeats` of parts, `cords` in mm, `times` and `lengths` of steps.

    A cord named "" stands for all cords; lengths are in mm.
    """

    repeats: Mapping[str, int] = MappingProxyType({})
    cords: Mapping[str, float] = _NOTHING
    times: Mapping[str, int] = MappingProxyType({})
    lengths: Mapping[str, float] = _NOTHING

    def __bool__(self) -> bool:
        """Whether anything is wished for."""
        return bool(self.repeats or self.cords or self.times or self.lengths)

    def also(self, other: "Wish") -> "Wish":
        """Give both wishes; where they speak of the same thing, the other one holds."""
        return self._replace(
            repeats={**self.repeats, **other.repeats},
            cords={**({} if "" in other.cords else self.cords), **other.cords},
            times={**self.times, **other.times},
            lengths={**self.lengths, **other.lengths},
        )

    def to_data(self) -> dict[str, dict[str, float]]:
        """Give the wish as plain data."""
        return {
            "repeats": dict(self.repeats),
            "cords": dict(self.cords),
            "times": dict(self.times),
            "lengths": dict(self.lengths),
        }

    @classmethod
    def from_data(cls, data: Mapping[str, Mapping[str, float]]) -> "Wish":
        """Give back what `to_data` was given. Raises ValueError for anything else."""
        try:
            return cls(
                {str(name): int(n) for name, n in data.get("repeats", {}).items()},
                {str(name): float(mm) for name, mm in data.get("cords", {}).items()},
                {str(name): int(n) for name, n in data.get("times", {}).items()},
                {str(name): float(mm) for name, mm in data.get("lengths", {}).items()},
            )
        except (AttributeError, TypeError) as error:
            raise ValueError("this is no wish") from error
