"""The prior for each skill that a maker may state."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from coach.pace.gaussian import Belief


@dataclass(frozen=True, slots=True)
class Skill:
    """The prior for a stated skill, as log factors on the trade's times."""

    hand: Belief
    practice: Belief


SKILLS: Final[Mapping[str, Skill]] = MappingProxyType(
    {
        "": Skill(Belief(0.1, 0.60), Belief(0.15, 0.15)),  # not asked: practised, or not
        "new to it": Skill(Belief(0.85, 0.27), Belief(0.30, 0.12)),
        "practised": Skill(Belief(0.0, 0.28), Belief(0.10, 0.10)),
        "quick": Skill(Belief(-0.4, 0.28), Belief(0.05, 0.05)),
    }
)
"""By what makers say of themselves: common practice, no source; "" is of whom nobody asked."""

STATED_SKILLS: Final[Mapping[str, str]] = MappingProxyType(
    {"beginner": "new to it", "intermediate": "practised", "advanced": "practised"}
)
"""The skill that a project's file asks for, as makers say it of themselves."""
