"""From the text of a project file to its model, with every problem in its place."""

import re
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from coach.knots.names import plain
from coach.project.model import About, Project, Step, Unreadable
from coach.project.readers.call_graph import Parts, all_steps, checked
from coach.project.readers.colourways import colourways
from coach.project.readers.cords import Cords
from coach.project.readers.header import read_head
from coach.project.readers.references import Known, know
from coach.project.readers.size import measured, size
from coach.project.readers.start import start
from coach.project.readers.work_steps import step_list
from coach.text import one_line, unseen
from coach.yaml_reader.collector import MOST_PROBLEMS, Found, limited, quoted
from coach.yaml_reader.diagnostics import Problem, Span
from coach.yaml_reader.mapping_reader import Fields, Value
from coach.yaml_reader.nodes import Mapping, Node, Scalar, parse

FORMAT: Final = 1
MOST_PARTS: Final = 1_000

_NO_CHARACTER = re.compile("[\ufffe\uffff]")


@dataclass(frozen=True, slots=True)
class Reading:
    """What a text says: `project` is None only if cords or start could not be read."""

    project: Project | None
    problems: tuple[Problem, ...]


def read_project(text: str) -> Reading:
    """Read the text of a project file.

    Never raises for what the text says: all that is wrong is in the problems, sorted by place,
    and with errors among them the project is only good for finding more of them.
    """
    found = Found()
    root = parse(_seen(text, found), found)
    project = None if root is None else _project(root, found)
    if root is None and not found.sorted():
        found.error("EMPTY", Span(), "The file is empty.", _BEGIN)
    return Reading(project, limited(found.sorted()))


_BEGIN: Final = f"A project file begins with ‘coach: {FORMAT}’ and a ‘title:’."


def _seen(text: str, found: Found) -> str:
    """Return the text with one kind of line end; report what acts unseen and put a sign for it."""
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


def _project(root: Node, found: Found) -> Project | None:
    if not isinstance(root, Mapping):
        code = "SHAPE" if not isinstance(root, Scalar) or root.text else "EMPTY"
        if not found.errors:
            found.error(code, root.span, "This is not a project file.", _BEGIN)
        return None
    fields = Fields(root, found, "a project file")
    version = fields.need("coach", _VERSION)
    if "coach" in fields.names and version != FORMAT:
        return None
    return _whole(fields, found)


def _version(node: Node, found: Found) -> int | None:
    text = node.text if isinstance(node, Scalar) else ""
    if text == str(FORMAT):
        return FORMAT
    if not (isinstance(node, Scalar) and node.broken):
        message = f"This file has format {quoted(text)}; only format {FORMAT} can be read."
        found.error("VERSION", node.span, message, f"Write ‘coach: {FORMAT}’.")
    return None


_VERSION: Final = Value(_version, 0)


def _whole(fields: Fields, found: Found) -> Project | None:
    head = read_head(fields)
    cords = Cords()
    fields.need("cords", Value(cords.read, False))  # noqa: FBT003 - the cords keep themselves
    names = _part_names(fields)
    known = know(cords.by_id, names)
    ways = fields.get("colourways", colourways(known), MappingProxyType({}))
    begun = fields.need("start", start(known))
    parts = fields.get("parts", _parts(known), MappingProxyType({}))
    work = fields.need("work", step_list(known))
    if not work:
        work = (Unreadable(About(fields.span("work")), changes_count=True),)
    parts, work = checked(parts, work, found)
    extent = fields.get("size", size(_variable(names, parts, work)), None)
    figures = fields.get("measured", measured(known), ())
    fields.finish()
    if begun is None or not cords.sound:
        return None
    return Project(
        title=head.title,
        cords=cords.by_id,
        start=begun,
        work=work,
        parts=MappingProxyType(dict(parts)),
        about=head.about,
        kind=head.kind,
        skill=head.skill,
        surface=head.surface,
        tools=head.tools,
        findings=head.findings,
        takes_s=head.takes_s,
        takes_span=head.takes_span,
        cautions=head.cautions,
        margin=head.margin,
        size=extent,
        measured=figures,
        colourways=ways,
    )


def _part_names(fields: Fields) -> tuple[str, ...] | None:
    """Return the names of the parts, for hints too, or None where something else stands."""
    node = fields.node("parts")
    if not isinstance(node, Mapping):
        return () if node is None else None
    fields.found.parts = tuple(_name(key) for key, _ in node.pairs)
    return fields.found.parts


def _name(key: Scalar) -> str:
    return one_line(key.text)


def _parts(known: Known) -> Value[Parts]:
    """Read `parts:`; one that cannot be read is there all the same, so that calls find it."""
    steps = step_list(known)

    def read(node: Node, found: Found) -> Parts | None:
        if not isinstance(node, Mapping):
            if not (isinstance(node, Scalar) and node.broken):
                hint = "Write a name, a colon, and below it a list of steps."
                found.error("SHAPE", node.span, "Parts are lists of steps by name.", hint)
            return None
        if len(node.pairs) > MOST_PARTS:
            message = f"There are more than {MOST_PARTS} parts."
            found.error("TOO-LARGE", node.span, message, "Use fewer.")
        parts: dict[str, tuple[Step, ...]] = {}
        for key, value in node.pairs:
            if not plain(key.text):
                found.error("NAME", key.span, "A part needs a name.", "Write one before the ‘:’.")
            stand_in = (Unreadable(About(key.span), changes_count=True),)
            parts[_name(key)] = steps.read(value, found) or stand_in
        return parts

    return Value(read, MappingProxyType({}))


def _variable(
    names: tuple[str, ...] | None, parts: Parts, work: tuple[Step, ...]
) -> tuple[str, ...] | None:
    """Return the names of parts and steps, or None where the parts are not known."""
    lists = (*parts.values(), work)
    named = tuple(
        step.about.name for steps in lists for step, _ in all_steps(steps) if step.about.name
    )
    return None if names is None else (*named, *names)
