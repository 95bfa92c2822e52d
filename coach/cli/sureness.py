"""How sure the cord is to reach: reading `--sure`."""

from typing import Final

from coach.plan.cord.cut_list import SURE
from coach.plan.resize.refit import CannotRefit

_LEAST, _MOST = 50.0, 99.9
_SIGNS: Final = " %"


def sure_of(text: str) -> float:
    """Return `99` or `99 %` as 0.99, and 0.95 for nothing.

    Raises CannotRefit for what is no number between 50 and 99.9.
    """
    if not text:
        return SURE
    try:
        number = float(text.rstrip(_SIGNS))
    except ValueError:
        number = 0.0
    if not _LEAST <= number <= _MOST:
        raise CannotRefit("--sure: say how many of 100 pieces are to reach, from 50 to 99.9.")
    return number / 100
