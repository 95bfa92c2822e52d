"""The reader of project files: from text to the model, with every problem in its place."""

import re
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from coach.project.model import About, Project, Step, Unreadable
from coach.project.readers.apart import (
    APART_KEY,
    NOTHING_HANGS,
    as_parts,
    check_starts,
    names_of,
    with_checked_work,
)
from coach.project.readers.call_graph import Parts, all_steps, check_calls
from coach.project.readers.cords import COLOURWAYS, CORDS
from coach.project.readers.own_knots import KNOTS_OWN, with_cord_sizes
from coach.project.readers.size import MEASURED, SIZE
from coach.project.readers.start import START, check_start
from coach.project.readers.work_steps import AN_EXAMPLE, STEPS
from coach.text import normalized_name, one_line, unseen
from coach.yaml_reader.collector import MOST_PROBLEMS, Names, ReadingProblems, limited, quoted
from coach.yaml_reader.declarations import Key, Keys, Value, may, must
from coach.yaml_reader.diagnostics import Problem, Span
from coach.yaml_reader.expected import by_own_names, report_other
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.mapping_schema import OWN_NAME, by_name
from coach.yaml_reader.nodes import Mapping, Node, Scalar, parse
from coach.yaml_reader.scalars import LINES, SHARE, TEXT, TEXTS, TIMES, choice

KINDS: Final = (
    "bracelet", "necklace", "keyring", "belt", "plant hanger", "wall hanging", "mat", "bag",
    "lampshade", "hammock", "toy", "child", "pet", "other",
)  # fmt: skip
_SKILLS: Final = ("beginner", "intermediate", "advanced")

HEAD: Final[Keys] = {
    "title": must("title", TEXT, "What the piece is called.", "My first strap"),
    "about": may("about", LINES, "One line saying what it is and for whom."),
    "kind": may("kind", choice(KINDS), "What sort of thing it is; brings the standing cautions."),
    "skill": may("skill", choice(_SKILLS), "For whom it is."),
    "surface": may("surface", TEXT, "What it is worked on."),
    "tools": may("tools", TEXTS, "What to have at hand."),
    "findings": may("findings", TEXTS, "Anything bought that is not cord."),
    "takes_s": may("takes", TIMES, "How long it takes, as in 20-30 min."),
    "cautions": may("cautions", TEXTS, "What the maker should mind."),
}
MARGIN: Final = may(
    "margin", SHARE, "Added to every cut; left out, the lengths are enough 95 times in 100."
)


FORMAT: Final = 1
MOST_PARTS: Final = 1_000

_NO_CHARACTER = re.compile("[\ufffe\uffff]")


@dataclass(frozen=True, slots=True)
class Reading:
    """The result of reading; `project` is None only if cords or start could not be read."""

    project: Project | None
    problems: tuple[Problem, ...]


def read_project(text: str) -> Reading:
    """Read the text of a project file.

    It never raises because of the text: everything wrong is in the problems, sorted by place. With
    errors among them the project is only good for finding more of them.
    """
    found = ReadingProblems()
    root = parse(_seen(text, found), found)
    project = None if root is None else _project(root, found)
    if root is None and not found.sorted():
        found.error("EMPTY", Span(), "The file is empty.", _BEGIN)
    return Reading(project, limited(found.sorted()))


_BEGIN: Final = f"A project file begins with ‘coach: {FORMAT}’ and a ‘title:’."


def _seen(text: str, found: ReadingProblems) -> str:
    """Return the text with line feeds only; report and replace invisible characters."""
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    if not (unseen(text) or _NO_CHARACTER.search(text)):
        return text
    lines = text.split("\n")
    reported = 0
    for at, line in enumerate(lines):
        if reported > MOST_PROBLEMS:
            return ""  # this is no text that somebody wrote
        match = unseen(line) or _NO_CHARACTER.search(line)
        if match:
            span = Span(at + 1, match.start() + 1)
            message = f"A hidden control character (U+{ord(match[0]):04X})."
            found.error("CONTROL", span, message, "Type this line again.")
            reported += 1
            lines[at] = "".join(
                "\ufffd" if unseen(sign) or _NO_CHARACTER.match(sign) else sign for sign in line
            )
    return "\n".join(lines)


def _project(root: Node, found: ReadingProblems) -> Project | None:
    if not isinstance(root, Mapping):
        code = "SHAPE" if not isinstance(root, Scalar) or root.text else "EMPTY"
        if not found.errors:
            found.error(code, root.span, "This is not a project file.", _BEGIN)
        return None
    fields = Fields(root, found, "a project file")
    version = fields.need(_FORMAT)
    if "coach" in fields.names and version != FORMAT:
        return None
    return _whole(fields, found)


def _version(node: Node, found: ReadingProblems) -> int | None:
    text = node.text if isinstance(node, Scalar) else ""
    if text == str(FORMAT):
        return FORMAT
    message = f"This file has format {quoted(text)}; only format {FORMAT} can be read."
    report_other(node, found, message, f"Write ‘coach: {FORMAT}’.", "VERSION")
    return None


_FORMAT: Final = must(
    "coach",
    Value(_version, 0, {"anyOf": [{"const": FORMAT}, {"const": str(FORMAT)}]}),
    f"The format of the file; {FORMAT}.",
    str(FORMAT),
)


def _whole(fields: Fields, found: ReadingProblems) -> Project | None:
    head = fields.given({**HEAD, "margin": MARGIN})
    cords = fields.need(CORDS)
    found.parts, found.apart = _part_names(fields), names_of(fields)
    colourways = fields.take(COLOURWAYS, MappingProxyType({}))
    knots = with_cord_sizes(fields.take(KNOTS_OWN, MappingProxyType({})), cords.by_id)
    found.own_knots = {name: knot.strands for name, knot in knots.items()}
    start = fields.take(_HANGING, None if "start" in fields.names else NOTHING_HANGS)
    fields.some_of(_HANGING, APART_KEY)
    start = start and check_start(cords.by_id, start, found)
    apart = check_starts(fields.take(APART_KEY, MappingProxyType({})), cords.by_id, found)
    parts = fields.take(_PARTS, MappingProxyType({}))
    work = fields.need(_WORK)
    if not work:
        work = (Unreadable(About(fields.span("work")), changes_count=True),)
    every, work = check_calls({**as_parts(apart), **parts}, work, found)
    parts = {name: every[name] for name in parts}
    apart = with_checked_work(apart, every)
    found.varied = _variable(found.parts, parts, work)
    size = fields.take(SIZE, None)
    measured = fields.take(MEASURED, ())
    fields.finish()
    if start is None or not cords.sound:
        return None
    return Project(
        cords=cords.by_id,
        start=start,
        work=work,
        parts=MappingProxyType(dict(parts)),
        takes_span=fields.value_span("takes"),
        size=size,
        measured=measured,
        colourways=colourways,
        apart=apart,
        knots=knots,
        **head,
    )


def _part_names(fields: Fields) -> Names | None:
    """Return the names of the parts, or None where `parts` is no mapping."""
    node = fields.node("parts")
    if not isinstance(node, Mapping):
        return Names(()) if node is None else None
    return Names(_name(key) for key, _ in node.pairs)


def _name(key: Scalar) -> str:
    return one_line(key.text)


def _parts(node: Node, found: ReadingProblems) -> Parts | None:
    """Read parts; one that cannot be read is kept, empty, so that calls still find it."""
    hint = "Write a name, a colon, and below it a list of steps."
    other = "Parts are lists of steps by name.", hint
    too_many = f"There are more than {MOST_PARTS} parts.", "Use fewer."
    pairs = by_own_names(node, found, other, MOST_PARTS, too_many)
    if pairs is None:
        return None
    parts: dict[str, tuple[Step, ...]] = {}
    for key, value in pairs:
        if not normalized_name(key.text):
            found.error("NAME", key.span, "A part needs a name.", "Write one before the ‘:’.")
        stand_in = (Unreadable(About(key.span), changes_count=True),)
        parts[_name(key)] = STEPS.read(value, found) or stand_in
    return parts


_WORK: Final = must("work", STEPS, "The steps, in order.", AN_EXAMPLE)
_HANGING: Final = replace(START, needed=False)
"""Only work that makes parts and attaches them needs no start of its own."""
_PARTS: Final[Key[Parts]] = may(
    "parts",
    Value(_parts, MappingProxyType({}), by_name(STEPS.schema, OWN_NAME, 0)),
    "Named lists of steps, called by use.",
)
KEYS: Final = (
    _FORMAT, *HEAD.values(), CORDS, COLOURWAYS, KNOTS_OWN, _HANGING, MARGIN, _WORK, _PARTS,
    APART_KEY, SIZE, MEASURED,
)  # fmt: skip
"""All keys at the top of a project file."""
STARTS: Final = (_HANGING, APART_KEY)
"""Of these one at least is needed."""


def _variable(names: Names | None, parts: Parts, work: tuple[Step, ...]) -> Names | None:
    """Return the names that may be varied, of parts and steps; None if the parts are not known."""
    lists = (*parts.values(), work)
    named = tuple(
        step.about.name for steps in lists for step, _ in all_steps(steps) if step.about.name
    )
    return None if names is None else Names((*named, *names.written))
