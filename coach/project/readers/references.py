"""What is known while steps are read: the names that they may use."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from coach.project.model import Cord
from coach.yaml_reader.collector import Found
from coach.yaml_reader.mapping_reader import Value
from coach.yaml_reader.nodes import Node
from coach.yaml_reader.scalars import named


@dataclass(frozen=True, slots=True)
class Known:
    """The cords by their ids, and how names of cords and parts are read.

    `in_each` is true while the steps of a group are read.
    """

    cords: Mapping[str, Cord]
    cord: Value[str]
    part: Value[str]
    in_each: bool = False

    def inside_each(self) -> "Known":
        """Return the same names for the steps of a group."""
        return replace(self, in_each=True)


def know(cords: Mapping[str, Cord], parts: tuple[str, ...] | None) -> Known:
    """Return what is known by its names; where `parts` is None they could not be read.

    Where that is so (or there are no cords) it has been reported already, so that a name that
    cannot be found is no problem of its own.
    """
    cord = named(tuple(cords), "CORD", "cord") if cords else UNSAYABLE
    part = named(parts, "PART", "part") if parts is not None else UNSAYABLE
    return Known(cords, cord, part)


def _nothing(_node: Node, _found: Found) -> str | None:
    return None


UNSAYABLE = Value(_nothing, "")
