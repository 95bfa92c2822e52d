"""What is thought of cords and knots, as it is kept with a piece and carried to the next one."""

from collections.abc import Mapping
from math import isfinite
from typing import Any, TypeAlias

from coach.pace.cord import Figure, believable
from coach.pace.gaussian import Belief

Beliefs: TypeAlias = Mapping[Figure, Belief]
"""By (cord, "") for a compression and (cord, knot) for a slack; cords by a project's own names."""

_JOINT = "\t"


def beliefs_to_data(beliefs: Beliefs) -> dict[str, Any]:
    """Return beliefs as an object that JSON keeps exactly."""
    return {_JOINT.join(figure): [b.mean, b.sd] for figure, b in beliefs.items()}


def beliefs_from_data(data: Mapping[str, Any]) -> dict[Figure, Belief]:
    """Return back what `beliefs_to_data` was given, within what cords and hands can be.

    Raises:
        ValueError: The data is not what `beliefs_to_data` writes.
    """
    found: dict[Figure, Belief] = {}
    for name, figures in data.items():
        cord, joint, knot = name.partition(_JOINT)
        try:
            mean, sd = (float(figure) for figure in figures)
        except (TypeError, ValueError, OverflowError) as error:
            raise ValueError("these are no beliefs") from error
        if not (joint and isfinite(mean) and 0 < sd < float("inf")):
            raise ValueError("these are no beliefs")
        found[cord, knot] = believable((cord, knot), Belief(mean, sd))
    return found
