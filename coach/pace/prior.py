"""Seconds a tie before the maker has tied one: what the trade takes for granted.

Every figure is common practice, no source. They are built up from one turn of the hand at
about 4 s. One anchor holds them: a clove-hitch bracelet of about 15 cm in 1 mm cord with
plaited ends takes 45 to 60 minutes (common practice, no source).
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

PRIOR_S: Final[Mapping[str, float]] = MappingProxyType(
    {
        "half hitch": 4.0,  # one pass; common practice, no source
        "half hitch chain": 4.0,  # one pass; common practice, no source
        "clove hitch": 8.0,  # two passes; common practice, no source
        "reverse clove hitch": 9.0,  # two passes, the crossed strand held; common practice
        "lark's head": 9.0,  # two passes, the second from below; common practice, no source
        "reverse lark's head": 9.0,  # the same; common practice, no source
        "half knot": 4.0,  # one pass; common practice, no source
        "reverse half knot": 4.0,  # one pass; common practice, no source
        "square knot": 8.0,  # two passes; common practice, no source
        "reverse square knot": 8.0,  # two passes; common practice, no source
        "overhand knot": 15.0,  # placed with care; common practice, no source
        "double overhand knot": 20.0,  # the same with another turn; common practice, no source
        "barrel knot": 40.0,  # some turns, then drawn up; common practice, no source
        "berry knot": 60.0,  # four square knots and a needle's work; common practice, no source
        "josephine knot": 60.0,  # laid flat, then evened out; common practice, no source
        "gathering knot": 150.0,  # wrapped, pulled under and cut; common practice, no source
        "": 30.0,  # a count without a knot that says no time itself; common practice, no source
    }
)
UNKNOWN_S: Final = 15.0  # a tie of a name that stands nowhere above; common practice, no source
PLAIT_CROSSING_S: Final = 1.0  # one crossing of a three-strand plait; common practice, no source


def prior_s(knot: str) -> float:
    """Return the trade's seconds a tie of `knot`; `""` is a count without a knot."""
    return PRIOR_S.get(knot, UNKNOWN_S)
