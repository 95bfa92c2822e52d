"""The learnt compression and slack as data, stored with a piece and carried to the next."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import isfinite
from typing import Any, TypeAlias

from coach.pace.cord_learning import Figure, Learnt, clamped_belief
from coach.pace.gaussian import Belief
from coach.plan.tension import NOMINAL, Hands

Beliefs: TypeAlias = Mapping[Figure, Belief]
"""By (cord, "") for a compression and (cord, knot) for a slack; cords by a project's own names."""

_JOINT = "\t"
_NONE = "these are no beliefs"


@dataclass(frozen=True, slots=True)
class Shared(Belief):
    """A belief with its correlations with others, where one piece's measures left some."""

    together: Mapping[Figure, float]


def beliefs_to_data(beliefs: Beliefs) -> dict[str, Any]:
    """Return beliefs as plain data that JSON stores exactly."""
    return {_JOINT.join(figure): _data_of(belief) for figure, belief in beliefs.items()}


def _data_of(belief: Belief) -> list[Any]:
    together = belief.together if isinstance(belief, Shared) else {}
    named = {_JOINT.join(figure): value for figure, value in together.items()}
    return [belief.mean, belief.sd, *([named] if named else [])]


def beliefs_from_data(data: Mapping[str, Any]) -> dict[Figure, Belief]:
    """Return the beliefs that `beliefs_to_data` made this from, limited to what can be.

    Raises:
        ValueError: The data is not what `beliefs_to_data` writes.
    """
    found = {_figure(name): _belief(values) for name, values in data.items()}
    return {figure: clamped_belief(figure, belief) for figure, belief in found.items()}


def _figure(name: str) -> Figure:
    cord, joint, knot = name.partition(_JOINT)
    if not joint:
        raise ValueError(_NONE)
    return cord, knot


def _belief(values: Any) -> Belief:
    """Return one belief from its mean, its sd and its correlations, if there are any."""
    try:
        mean, sd, *rest = values
        mean, sd = float(mean), float(sd)
        together = {_figure(name): float(value) for name, value in dict(*rest).items()}
    except (TypeError, ValueError, OverflowError, AttributeError) as error:
        raise ValueError(_NONE) from error
    alike = all(-1 < value < 1 for value in together.values())
    if not (isfinite(mean) and 0 < sd < float("inf") and alike):
        raise ValueError(_NONE)
    return Shared(mean, sd, together) if together else Belief(mean, sd)


def hands_of(beliefs: Beliefs) -> Hands:
    """Return the likely hands by these beliefs, with their uncertainty.

    A correlation counts where both figures have it: then one piece left it.
    """
    means = {figure: belief.mean for figure, belief in beliefs.items()}
    sds = {figure: belief.sd for figure, belief in beliefs.items()}
    told = {f: b.together for f, b in beliefs.items() if isinstance(b, Shared)}
    together = {
        (one, other): value
        for one, others in told.items()
        for other, value in others.items()
        if told.get(other, {}).get(one) == value
    }
    return replace(NOMINAL.with_figures(means), sds=sds, together=together)


def shared(learnt: Learnt, figures: Sequence[Figure]) -> dict[Figure, Belief]:
    """Return what was learnt of some figures, with their correlations."""
    found: dict[Figure, Belief] = {}
    for figure in figures:
        belief = learnt.belief(figure)
        together = {other: learnt.together(figure, other) for other in figures if other != figure}
        found[figure] = Shared(belief.mean, belief.sd, together)
    return found
