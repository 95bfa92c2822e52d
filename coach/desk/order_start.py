"""The start of an order: its copies, and what all of its pieces share."""

from dataclasses import dataclass

from coach.pace.estimate import Paces
from coach.piece.beliefs import Beliefs
from coach.plan.plan_model import Plan
from coach.plan.resize.size_request import Wish


@dataclass(frozen=True, slots=True)
class ToBegin:
    """Copies of an order that are alike: their number, colourway, wish and plan."""

    copies: int
    colourway: str
    wish: Wish
    plan: Plan


@dataclass(frozen=True, slots=True)
class Begins:
    """What all pieces of an order begin with."""

    title: str
    text: str
    source: str
    total: int
    paces: Paces
    beliefs: Beliefs
