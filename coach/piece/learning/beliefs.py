"""What is thought of cords and knots, as it is kept with a piece and carried to the next one."""

from collections.abc import Mapping
from dataclasses import replace
from math import isfinite
from typing import Any, TypeAlias

from coach.pace.cord import Belief, Figure
from coach.plan.measure.tension import NOMINAL, Hands

Beliefs: TypeAlias = Mapping[Figure, Belief]
"""By (cord, "") for a compression and (cord, knot) for a slack; cords by a project's own names."""

_JOINT = "\t"
_NONE = "these are no beliefs"


def beliefs_to_data(beliefs: Beliefs) -> dict[str, Any]:
    """Return beliefs as an object that JSON keeps exactly."""
    return {
        _JOINT.join(figure): [b.mean, b.sd, *([_named(b.together)] if b.together else [])]
        for figure, b in beliefs.items()
    }


def beliefs_from_data(data: Mapping[str, Any]) -> dict[Figure, Belief]:
    """Return back what `beliefs_to_data` was given.

    Raises:
        ValueError: The data is not what `beliefs_to_data` writes.
    """
    return {_figure(name): _belief(values) for name, values in data.items()}


def hands_of(beliefs: Beliefs) -> Hands:
    """Return the hands that beliefs take for likely, and how sure they are.

    A correlation counts where both figures tell it: then one piece left it.
    """
    means = {figure: belief.mean for figure, belief in beliefs.items()}
    sds = {figure: belief.sd for figure, belief in beliefs.items()}
    together = {
        (one, other): value
        for one, belief in beliefs.items()
        for other, value in belief.together.items()
        if other in beliefs and beliefs[other].together.get(one) == value
    }
    return replace(NOMINAL.with_figures(means), sds=sds, together=together)


def _named(together: Mapping[Figure, float]) -> dict[str, float]:
    return {_JOINT.join(figure): value for figure, value in together.items()}


def _figure(name: str) -> Figure:
    cord, joint, knot = name.partition(_JOINT)
    if not joint:
        raise ValueError(_NONE)
    return cord, knot


def _belief(values: Any) -> Belief:
    """Return one belief from its mean, its sd and, where some are kept, its correlations."""
    try:
        mean, sd, *rest = values
        mean, sd = float(mean), float(sd)
        named = dict(*rest)
        together = {_figure(name): float(value) for name, value in named.items()}
    except (TypeError, ValueError, OverflowError) as error:
        raise ValueError(_NONE) from error
    alike = all(-1 < value < 1 for value in together.values())
    if not (isfinite(mean) and 0 < sd < float("inf") and alike):
        raise ValueError(_NONE)
    return Belief(mean, sd, together) if together else Belief(mean, sd)
