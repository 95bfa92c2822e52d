"""From YAML text to a tree of located scalars, all of them texts whatever YAML makes of them."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Final, TypeAlias

import yaml

from coach.text import clean, normalized_name, unseen
from coach.yaml_reader import slips, syntax_errors
from coach.yaml_reader.collector import ReadingProblems, quoted
from coach.yaml_reader.diagnostics import Span

MOST_LEVELS: Final = 32
MOST_NODES: Final = 50_000
_QUOTES: Final = ("'", '"')

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True, slots=True)
class Scalar:
    """A scalar, as text. A `broken` one was reported already and has no meaning."""

    span: Span
    text: str
    broken: bool = False


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list."""

    span: Span
    items: tuple["Node", ...]


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys with their values, in the order written; no key stands twice."""

    span: Span
    pairs: tuple[tuple[Scalar, "Node"], ...]


Node: TypeAlias = Scalar | Sequence | Mapping


@dataclass(frozen=True, slots=True)
class _Open:
    """A list or mapping that is still being read; `nodes` are keys and values in turn."""

    span: Span
    is_mapping: bool
    nodes: list[Node]


class _NoFurtherError(Exception):
    """The text is too deep or too long, or makes no sense from here on."""


def parse(text: str, found: ReadingProblems) -> Node | None:
    """Return the tree of a text, or None if there is none to use.

    Every problem goes to `found`. After a syntax error nothing more is read.

    Args:
        text: The text, with line feeds as its only line endings.
        found: Collects problems.
    """
    builder = _Builder(text, found)
    try:
        # Events only: composing nodes resolves tags and aliases, and recurses as deep as the text
        # does.
        for event in iter(_LOADER(text).get_event, None):
            builder.take(event)
    except yaml.YAMLError as fault:
        found.put(syntax_errors.syntax_problem(fault, builder.lines, builder.reached))
        return None
    except _NoFurtherError:
        return None
    return builder.root


class _Builder:
    """Builds the tree from parser events without recursion, so that no depth exhausts the stack."""

    def __init__(self, text: str, found: ReadingProblems) -> None:
        self.lines = text.split("\n")
        self.reached = 0  # the line, from 0, where the event before the last one ended
        self._last = 0
        self._found = found
        self._open: list[_Open] = []
        self._top: list[Node] = []
        self._inside = self._top  # where the next node goes
        self._nodes = 0
        self._documents = 0
        # What a text has nowhere need not be looked for in each of its words.
        self._escapes = "\\" in text or unseen(text) is not None
        self._hashed = {at for at, line in enumerate(self.lines) if "#" in line}
        self._takers: dict[type, Callable[[Any], None]] = {
            yaml.ScalarEvent: self._scalar,
            yaml.AliasEvent: self._alias,
            yaml.MappingStartEvent: self._begin,
            yaml.SequenceStartEvent: self._begin,
            yaml.MappingEndEvent: self._end,
            yaml.SequenceEndEvent: self._end,
            yaml.DocumentStartEvent: self._document,
        }

    @property
    def root(self) -> Node | None:
        """The outermost node; None as long as it has not ended."""
        return self._top[-1] if self._top else None

    def take(self, event: Any) -> None:
        """Take the next event of the parser."""
        self.reached, self._last = self._last, event.end_mark.line
        taker = self._takers.get(type(event))
        if taker:
            taker(event)

    def _alias(self, event: Any) -> None:
        span = self._span(event)
        self._found.error(
            "ALIAS", span, "YAML aliases are not supported.", "Write the words out again."
        )
        # Something must stand here, or the keys and values of a mapping would change places.
        self._inside.append(Scalar(span, "", broken=True))

    def _document(self, event: Any) -> None:
        self._documents += 1
        if self._documents > 1:
            hint = "Keep one project in a file, without a line of ‘---’ between."
            self._found.error("DOCUMENTS", self._span(event), "A second document begins.", hint)
            # The rest belongs to another project: its problems would be no help.
            raise _NoFurtherError

    def _begin(self, event: Any) -> None:
        if len(self._open) >= MOST_LEVELS:
            message = f"Lists and mappings are nested more than {MOST_LEVELS} levels deep here."
            self._found.error("NESTING", self._span(event), message, "Use a part for the inside.")
            raise _NoFurtherError
        self._count(event)
        is_mapping = isinstance(event, yaml.MappingStartEvent)
        self._inside = []
        self._open.append(_Open(self._span(event), is_mapping, self._inside))

    def _end(self, event: Any) -> None:
        done = self._open.pop()
        self._inside = self._open[-1].nodes if self._open else self._top
        span, end = done.span, event.end_mark
        # On one line the whole is marked; over several, only the beginning can be.
        if end.line + 1 == span.line:
            span = Span(span.line, span.column, max(1, end.column + 1 - span.column))
        if done.is_mapping:
            self._inside.append(Mapping(span, self._pairs(done.nodes)))
        else:
            self._inside.append(Sequence(span, tuple(done.nodes)))

    def _count(self, event: Any) -> None:
        """Count a node, and refuse what no node may have."""
        self._nodes += 1
        if event.anchor is not None or event.tag is not None:
            self._refuse_extras(event)
        if self._nodes > MOST_NODES:
            message = f"This file has more than {MOST_NODES:,} words."
            hint = "Make what repeats a part, and ‘use’ it with ‘times’."
            self._found.error("TOO-LARGE", self._span(event), message, hint)
            raise _NoFurtherError

    def _refuse_extras(self, event: Any) -> None:
        if event.anchor is not None:
            message = f"YAML anchors such as {quoted('&' + event.anchor)} are not supported."
            hint = "Leave it out; what is used often can be a part."
            self._found.error("ALIAS", self._span(event), message, hint)
        if event.tag is not None:
            message = f"YAML tags such as {quoted(event.tag)} are not supported."
            self._found.error("TAG", self._span(event), message, "Leave it out.")

    def _scalar(self, event: Any) -> None:
        self._count(event)
        span, value = self._span(event), event.value
        if event.style in _QUOTES and event.end_mark.line >= span.line:
            self._check_closed(event)
        if self._escapes and unseen(value):
            self._found.error(
                "CONTROL",
                span,
                "This text holds a hidden control character.",
                f"Write only what can be seen: {quoted(clean(value))}.",
            )
            self._inside.append(Scalar(span, "", broken=True))
        elif value or event.style:
            if not event.style and event.end_mark.line in self._hashed:
                self._warn_of_hash(event)
            self._inside.append(Scalar(span, value))
        else:
            # An empty value has no place of its own to mark.
            key = self._key_span(span)
            broken = self._swallowed(key)
            self._inside.append(Scalar(span if broken else key, "", broken=broken))

    def _check_closed(self, event: Any) -> None:
        """Refuse a quoted text over several lines that swallowed the next key."""
        at = event.start_mark
        if slips.swallows(self.lines, at.line, at.column):
            self._found.put(slips.open_quote(Span(at.line + 1, at.column + 1)))
            raise _NoFurtherError

    def _warn_of_hash(self, event: Any) -> None:
        """Warn of a `#` that cuts a plain scalar short, if there is one."""
        at = event.end_mark
        hidden = slips.hidden_comment(self.lines, at.line, at.column)
        if hidden:
            message = f"Everything after {quoted(event.value)} is read as a comment."
            hint = "Put the whole text in quotes if # belongs to it; else put a space after #."
            self._found.warn("HASH", hidden, message, hint)

    def _swallowed(self, key: Span) -> bool:
        """Report a `#` that leaves nothing of the value behind a key; tell whether there is one."""
        hidden = slips.hidden_value(self.lines, key)
        if hidden:
            written = self.lines[hidden.line - 1][hidden.column - 1 :][: hidden.length]
            self._found.put(slips.bare_hash(hidden, written))
        return hidden is not None

    def _key_span(self, span: Span) -> Span:
        """Return the place of the key whose value is empty and so has no place itself."""
        if self._open and self._open[-1].is_mapping and len(self._open[-1].nodes) % 2:
            return self._open[-1].nodes[-1].span
        return span

    def _pairs(self, nodes: list[Node]) -> tuple[tuple[Scalar, Node], ...]:
        pairs: list[tuple[Scalar, Node]] = []
        seen: set[str] = set()
        for key, value in zip(nodes[::2], nodes[1::2], strict=True):
            if not isinstance(key, Scalar):
                message = "A key must be a word, not a list or a mapping."
                self._found.error("KEY", key.span, message, "Write ‘key: value’.")
            elif key.text[:1].isdecimal() and pairs and _is_decimal_comma(pairs[-1][1], key):
                self._report_comma(pairs, key)
            # It was reported already, and no reader may report it again as unknown.
            elif key.broken:
                continue
            elif (name := normalized_name(key.text)) in seen:
                message = f"{quoted(key.text)} is here for the second time."
                self._found.error("DUPLICATE", key.span, message, "Keep one of them.")
            else:
                seen.add(name)
                pairs.append((key, value))
        return tuple(pairs)

    def _report_comma(self, pairs: list[tuple[Scalar, Node]], key: Scalar) -> None:
        """Report that `2,5 mm` fell apart between braces, and mark its value as broken."""
        before, value = pairs[-1]
        if isinstance(value, Scalar):
            span = replace(value.span, length=value.span.length + 1 + key.span.length)
            message = "Write a number with a point, not a comma."
            hint = f"Did you mean ‘{value.text}.{quoted(key.text)[1:-1]}’?"
            self._found.error("QUANTITY", span, message, hint)
            pairs[-1] = (before, Scalar(span, "", broken=True))

    def _span(self, event: Any) -> Span:
        start, end = event.start_mark, event.end_mark
        line, column = start.line, start.column
        if end.line == line:
            stop = end.column
        else:
            stop = len(self.lines[line]) if line < len(self.lines) else column
        return Span(line + 1, column + 1, stop - column or 1)


def _is_decimal_comma(value: Node, key: Scalar) -> bool:
    """Return whether a value and the next key, which begins with a digit, are one number."""
    return (
        isinstance(value, Scalar)
        and value.text.isdecimal()
        and key.span.line == value.span.line
        and key.span.column == value.span.column + value.span.length + 1
    )
