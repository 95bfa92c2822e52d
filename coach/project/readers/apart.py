"""The reader of parts made apart, each with a start and work of its own."""

from collections.abc import Mapping as ByName
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from coach.project.model import About, Apart, Cord, Mirror, Start, Unreadable
from coach.project.readers.call_graph import Parts
from coach.project.readers.common_keys import MIRRORED
from coach.project.readers.start import START, check_start
from coach.project.readers.work_steps import AN_EXAMPLE, STEPS
from coach.text import normalized_name, one_line
from coach.yaml_reader.collector import Names, ReadingProblems
from coach.yaml_reader.declarations import Key, Value, may, must
from coach.yaml_reader.diagnostics import Span
from coach.yaml_reader.expected import by_own_names, report_other
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.mapping_schema import OWN_NAME, by_name, mapping
from coach.yaml_reader.nodes import Mapping, Node, Scalar
from coach.yaml_reader.scalars import whole_number

MOST: Final = 100
_PLAIN: Final[Mirror] = "none"
MOST_MADE: Final = 200
AllApart = ByName[str, Apart]

_MAKE: Final = may("make", whole_number(1, MOST_MADE), "How many of it are made.")
_WORK: Final = must("work", STEPS, "The steps, in order.", AN_EXAMPLE)
KEYS: Final = (_MAKE, START, _WORK, MIRRORED)
NOTHING_HANGS: Final = Start(Span(), "hang", ())
"""The start of work that only makes and attaches."""


def _apart(node: Node, found: ReadingProblems) -> AllApart | None:
    """Read parts made apart; one that cannot be read is kept, so that `attach` still finds it."""
    hint = "Write a name, a colon, and below it ‘start:’ and ‘work:’."
    other = "Parts made apart are listed by name.", hint
    too_many = f"More than {MOST} parts are made apart.", "Use fewer."
    pairs = by_own_names(node, found, other, MOST, too_many)
    if pairs is None:
        return None
    read: dict[str, Apart] = {}
    for key, value in pairs:
        if not normalized_name(key.text):
            found.error("NAME", key.span, "A part needs a name.", "Write one before the ‘:’.")
        read[one_line(key.text)] = _one(key, value, found)
    return MappingProxyType(read)


def _one(key: Scalar, node: Node, found: ReadingProblems) -> Apart:
    name = one_line(key.text)
    unknown = (Unreadable(About(key.span), changes_count=True),)
    if not isinstance(node, Mapping):
        hint = "Write ‘start:’ and ‘work:’ below its name, as for a whole piece."
        report_other(node, found, "A part made apart is described by its keys.", hint)
        return Apart(key.span, name, NOTHING_HANGS, unknown)
    fields = Fields(node, found, "a part made apart")
    make = fields.take(_MAKE, 1)
    mirror: Mirror = fields.take(MIRRORED, _PLAIN)
    start, work = fields.need(START), fields.need(_WORK)
    fields.finish()
    return Apart(key.span, name, start or NOTHING_HANGS, work or unknown, make, mirror)


def names_of(fields: Fields) -> Names | None:
    """Return the names of the parts made apart, or None where there is no such mapping."""
    node = fields.node(APART_KEY.name)
    if not isinstance(node, Mapping):
        return Names(()) if node is None else None
    return Names(one_line(key.text) for key, _ in node.pairs)


def check_starts(apart: AllApart, cords: ByName[str, Cord], found: ReadingProblems) -> AllApart:
    """Check the starts of parts made apart against the cords and report what disagrees.

    Args:
        apart: The parts, by name.
        cords: The cords, by name.
        found: Collects problems.

    Returns:
        The parts, with cords about which something was reported marked as doubtful.
    """
    return MappingProxyType(
        {
            name: replace(one, start=check_start(cords, one.start, found))
            for name, one in apart.items()
        }
    )


_OWN_NAME: Final = "made apart: "  # so that it is no part's name


def as_parts(apart: AllApart) -> Parts:
    """Return the work of parts made apart as parts, under names that no part has, to be checked."""
    return {_OWN_NAME + name: one.work for name, one in apart.items()}


def with_checked_work(apart: AllApart, parts: Parts) -> AllApart:
    """Return parts made apart with their work replaced by the checked one."""
    return MappingProxyType(
        {name: replace(one, work=parts[_OWN_NAME + name]) for name, one in apart.items()}
    )


APART_KEY: Final[Key[AllApart]] = may(
    "apart",
    Value(_apart, MappingProxyType({}), by_name(mapping(KEYS), OWN_NAME, 0)),
    "Parts made by themselves, by name: handles, tassels, a second earring.",
)
