"""The manual's tables of keys for the page on project files, from the keys' declarations."""

import re
from collections.abc import Iterable, Iterator
from typing import Final

from coach.project import read
from coach.project.readers import apart, cords, own_knots, size, start
from coach.project.readers.common_keys import ABOUT
from coach.project.readers.step_kinds import Shape, keys_of
from coach.project.readers.work_steps import STEP_KINDS

STEP_TABLES: Final = (
    ("row", "weave"),
    ("knot",),
    ("net", "braid", "turn", "cross", "space", "picot", "bead"),
    ("add", "lay aside", "take up", "flip", "seam"),
    ("each", "use", "do", "measure", "wait", "trim"),
    ("make", "attach", "bring down", "fold back"),
)
"""The kinds of step that share a table."""

_HEAD: Final = "| key | what it says |\n|---|---|\n"
_TABLE: Final = re.compile(rf"{re.escape(_HEAD)}(?:\|.*\n)*")


def tables() -> Iterator[str]:
    """Yield the tables in the order of the page."""
    yield _table((read.KEYS,), needed=" (needed)")
    for shape in (cords.KEYS, start.KEYS, tuple(ABOUT.values())):
        yield _table((shape,))
    for kinds in STEP_TABLES:
        yield _table(shape for kind in kinds for shape in STEP_KINDS[kind].shapes.values())
    for shape in (apart.KEYS, own_knots.KEYS, size.SIZE_KEYS, size.MEASURED_KEYS):
        yield _table((shape,))


def with_tables(page: str) -> str:
    """Return a page with its tables replaced by these."""
    anew = tables()
    return _TABLE.sub(lambda old: next(anew, old[0]), page)


def _table(shapes: Iterable[Shape], needed: str = "") -> str:
    """Return a table with a row for each key; `needed` marks those that must be there."""
    return _HEAD + "".join(
        f"| `{key.name}` | {key.said}{needed if key.needed else ''} |\n"
        for key in keys_of(shapes).values()
    )
