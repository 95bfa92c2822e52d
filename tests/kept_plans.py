"""Plans of texts, compiled once for all tests of a process.

A reading is a value that follows from its text alone, and what is measured of a plan is kept on it;
each test by itself would compile the same projects again. Imported before the modules of the coach,
which then all read by `read_plan` of this one.
"""

from typing import Final

import pytest

from coach.plan import from_text
from coach.plan.from_text import PlanReading

LARGEST: Final = 5_000  # counts of a plan that is kept
MOST: Final = 300  # texts of which it is

anew = False
"""Whether every text is compiled anew: for a test that counts how often."""

_compiled_anew = from_text.read_plan


_kept: dict[str, PlanReading] = {}


def read_plan(text: str) -> PlanReading:
    """Read a project's text and compile it, or return what came of it before."""
    if anew:
        return _compiled_anew(text)
    reading = _kept.get(text) or _compiled_anew(text)
    if not reading.plan or reading.plan.total <= LARGEST:
        if len(_kept) > MOST:
            del _kept[next(iter(_kept))]
        _kept[text] = reading
    return reading


@pytest.fixture
def compiled_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a test meet no plan that another one has compiled."""
    monkeypatch.setattr("kept_plans.anew", True)


from_text.read_plan = read_plan
