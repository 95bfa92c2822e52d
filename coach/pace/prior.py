"""Standard times: how long practised hands take for each kind of work, at the trade's pace.

A *standard time* is what work measurement calls the time of a trained person at a normal pace.
Here it is seconds a pass with a short end, and more for each metre of end that has to be pulled
through. All figures are common practice, no source, unless something else stands beside them.
One anchor holds them together: a clove-hitch band of about 15 cm in 1 mm cord with plaited,
knotted ends takes 45 to 60 minutes (common practice, no source).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from coach.pace.gaussian import Belief


@dataclass(frozen=True, slots=True)
class PassTiming:
    """The usual number of passes of a tie, and the seconds of each with a short end."""

    number: int
    each_s: float


PASSES: Final[Mapping[str, PassTiming]] = MappingProxyType(
    {
        "half hitch": PassTiming(1, 2.7),
        "half hitch chain": PassTiming(1, 2.7),
        "clove hitch": PassTiming(2, 2.7),
        "reverse clove hitch": PassTiming(2, 3.2),  # the crossed strand has to be held
        "lark's head": PassTiming(2, 3.2),  # the second turn comes from below
        "reverse lark's head": PassTiming(2, 3.2),
        "half knot": PassTiming(1, 2.7),
        "reverse half knot": PassTiming(1, 2.7),
        "square knot": PassTiming(2, 2.7),
        "reverse square knot": PassTiming(2, 2.7),
        "overhand knot": PassTiming(1, 14.0),  # placed with care
        "double overhand knot": PassTiming(2, 9.5),
        "barrel knot": PassTiming(4, 9.5),  # wound, then drawn up turn by turn
        "berry knot": PassTiming(8, 7.0),  # square knots, then a needle's work
        "josephine knot": PassTiming(1, 60.0),  # laid flat, then evened out
        "gathering knot": PassTiming(1, 150.0),  # wrapped, pulled under and cut
    }
)
_OTHER: Final = PassTiming(1, 15.0)  # a tie of a name that stands nowhere above

PULL_S_PER_M: Final = 1.5
"""What each metre of end adds to a pass. Rough; to reach and move 80 cm and back is about twice
30 TMU of 0.036 s (MTM-1, from memory), and makers draw a long end in two or three pulls."""
LONGEST_END_M: Final = 0.8
"""Longer ends are bundled: common practice, no source."""
USUAL_END_M: Final = 0.4

HAND_LIMIT_S: Final = 0.6
"""No pass is made in less: a reach, a grasp and a short pull are above 15 TMU of 0.036 s (MTM-1,
from memory). A quicker press catches up with counts that were forgotten."""

QUICKEST: Final = 0.1
"""Of the standard time: a pot hung up or a wrap tied in less was done before it was counted.
Common practice, no source; the quickest makers take about half."""

PLAIT_CROSSING_S: Final = 1.0
"""One crossing of a three-strand plait."""

HANDLING: Final = "handling"
"""The work of taking up other strands, a holder or a group, before the tie itself."""
HOLDER_S: Final = 5.0  # finding the holder and laying it across
GROUP_S: Final = 3.0  # finding the strands of the next group

PLAIT: Final = "plait"
STATED: Final = "stated"
"""Work whose time the file's writer states; the statement is its standard time."""
WAIT: Final = "wait"
"""Time that passes whoever waits."""

STEP_S: Final[Mapping[str, float]] = MappingProxyType(
    {
        "do": 60.0, "measure": 20.0, "trim": 20.0, "bead": 15.0, "space": 5.0, "turn": 4.0,
        "cross": 5.0, "picot": 8.0, "add": 20.0, "lay aside": 5.0, "take up": 10.0, "flip": 10.0,
        "seam": 3.0, "attach": 180.0, "fold back": 15.0, PLAIT: 8.0,
    }
)  # fmt: skip
"""Seconds of a step without a knot; of a plait, those before its first crossing."""
STEP_STRAND_S: Final[Mapping[str, float]] = MappingProxyType(
    {"trim": 2.0, "bead": 5.0, "space": 1.0, "picot": 8.0, "add": 5.0}
)
"""What each strand adds to such a step."""


def pass_s(knot: str, end_m: float = USUAL_END_M) -> float:
    """Return the standard seconds of a pass of `knot` that pulls `end_m` of end through."""
    return PASSES.get(knot, _OTHER).each_s + PULL_S_PER_M * min(max(end_m, 0.0), LONGEST_END_M)


def prior_s(knot: str) -> float:
    """Return the standard seconds of a tie of `knot` with the usual passes and end.

    `""`, a count of which nothing more is known, takes half a minute.
    """
    return PASSES.get(knot, _OTHER).number * pass_s(knot) if knot else 30.0


def least_s(knot: str) -> float:
    """Return the fastest that any hand ties `knot`, in seconds, whatever anybody claims."""
    return PASSES.get(knot, _OTHER).number * HAND_LIMIT_S


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
