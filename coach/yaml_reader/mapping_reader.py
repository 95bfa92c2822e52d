"""Reading the keys of one mapping: each is asked for by name, and what nobody asked is unknown."""

from collections.abc import Callable
from collections.abc import Mapping as Names
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Generic, TypeVar

from coach.knots.names import plain
from coach.text import listed
from coach.yaml_reader.collector import Found, quoted
from coach.yaml_reader.diagnostics import Span
from coach.yaml_reader.nodes import Mapping, Node, Scalar, Sequence

T = TypeVar("T")
V_co = TypeVar("V_co", covariant=True)
D = TypeVar("D")

SYNONYMS: Final = {
    "holding cord": "holder",
    "knot bearer": "holder",
    "working cord": "knotter",
    "knotting cord": "knotter",
    "plait": "braid",
}


@dataclass(frozen=True, slots=True)
class Instead:
    """What to write for a key that belongs to other steps: `keys` are right here.

    In `hint`, `{}` stands for the value that was written.
    """

    keys: tuple[str, ...]
    hint: str


@dataclass(frozen=True, slots=True)
class Value(Generic[V_co]):
    """How a value is read: None when it cannot be (that is reported); `blank` stands in then."""

    read: Callable[[Node, Found], V_co | None]
    blank: V_co


def first_key(text: str) -> str:
    """Return a key by its first name."""
    name = plain(text)
    return SYNONYMS.get(name, name)


class Fields:
    """The keys of one mapping. `bad` turns true when one that was asked for could not be read."""

    def __init__(self, node: Mapping, found: Found, what: str) -> None:
        self.found = found
        self.what = what  # as in "a cord", for messages
        self.instead: Names[str, Instead] = MappingProxyType({})
        self.bad = False
        self._pairs: dict[str, tuple[Scalar, Node]] = {}
        self._asked: list[str] = []
        self._missing: list[tuple[str, ...]] = []
        self._span = node.pairs[0][0].span if node.pairs else node.span
        for pair in node.pairs:
            name = first_key(pair[0].text)
            if self._pairs.setdefault(name, pair) is not pair:
                self._refuse(pair[0], name)

    def _refuse(self, key: Scalar, name: str) -> None:
        """Report a second key that means the same as one before."""
        other = quoted(self._pairs[name][0].text)
        message = f"{quoted(key.text)} means the same as {other}."
        self.found.error("DUPLICATE", key.span, message, "Keep one of them.")

    @property
    def names(self) -> list[str]:
        """The first names of the keys, in the order written."""
        return list(self._pairs)

    def stand_at(self, name: str) -> None:
        """Let what is missing be told at a key: the one that says what kind of mapping it is."""
        self._span = self.span(name)

    def span(self, name: str = "") -> Span:
        """Return the place of a key, or of the mapping where there is no such key."""
        return self._pairs[name][0].span if name in self._pairs else self._span

    def node(self, name: str) -> Node | None:
        """Return the unread value of a key, or None where there is no such key."""
        return self._pairs[name][1] if name in self._pairs else None

    def value_span(self, name: str) -> Span:
        """Return the place of a key's value, or of the mapping where there is no such key."""
        return self._pairs[name][1].span if name in self._pairs else self._span

    def written(self, name: str) -> str:
        """Return the value of a key as written, "" unless it is a word."""
        node = self._pairs[name][1] if name in self._pairs else None
        return node.text if isinstance(node, Scalar) else ""

    def need(self, name: str, value: Value[T]) -> T:
        """Return the value of a key that must be there."""
        self._asked.append(name)
        if name not in self._pairs:
            self._miss(name)
            return value.blank
        return self._read(name, value)

    def get(self, name: str, value: Value[T], default: D) -> T | D:
        """Return the value of a key that may be left out."""
        self._asked.append(name)
        return self._read(name, value) if name in self._pairs else default

    def aside(self, name: str, value: Value[T], default: D) -> T | D:
        """Return the value of a key that matters so little that `bad` stays as it is."""
        bad = self.bad
        got = self.get(name, value, default)
        self.bad = bad
        return got

    def ignore(self, *names: str) -> None:
        """Let keys stand that cannot be judged."""
        self._asked.extend(names)

    def one_of(self, *names: str, needed: bool = True) -> str:
        """Return which of the keys stands here, "" if none does or more than one."""
        self._asked.extend(names)
        here = [name for name in names if name in self._pairs]
        if len(here) == 1 or not (here or needed):
            return "".join(here)
        if here:
            both = listed(list(map(quoted, here)))
            self.fail(
                "EXCLUSIVE", self.span(here[1]), f"{both} cannot stand together.", "Keep one."
            )
        else:
            self._miss(*names)
        return ""

    def some_of(self, *names: str) -> None:
        """Miss keys, of which at least one must be there, if none is."""
        self._asked.extend(names)
        if not any(name in self._pairs for name in names):
            self._miss(*names)

    def fail(self, code: str, span: Span, message: str, hint: str = "") -> None:
        """Report an error that leaves this mapping without a meaning."""
        self.bad = True
        self.found.error(code, span, message, hint)

    def finish(self) -> None:
        """Report, once all keys have been asked for, which are unknown and which are missing."""
        unknown = [name for name in self._pairs if name not in self._asked]
        meant = {key for name in unknown for key in self._unknown(name)}
        missing = [names for names in self._missing if not meant.intersection(names)]
        if missing:
            needed = listed([listed(list(map(quoted, names)), "or") for names in missing])
            hint = f"Add, for example, {listed([self._examples(names) for names in missing])}."
            self.fail("MISSING-KEY", self._span, f"{self._start()} needs {needed}.", hint)

    def _examples(self, names: tuple[str, ...]) -> str:
        from coach.yaml_reader.examples import example  # noqa: PLC0415 - only for a fault

        return listed([f"‘{example(self.what, name, self.found)}’" for name in names], "or")

    def _unknown(self, name: str) -> tuple[str, ...]:
        """Report a key that nobody asked for; return the keys that it was probably meant to be."""
        key = self._pairs[name][0]
        offered = [other for other in dict.fromkeys(self._asked) if other not in self._pairs]
        keys, hint = self._meant(name, offered)
        message = f"{self._start()} has no key {quoted(key.text)}."
        self.found.error("UNKNOWN-KEY", key.span, message, hint)
        return keys

    def _meant(self, name: str, offered: list[str]) -> tuple[tuple[str, ...], str]:
        """Return the keys that an unknown one was probably meant to be, and a hint."""
        if name in self.instead:
            return self._other_name(name)
        near = self.found.near(name, offered)
        if near:
            return (near,), f"Did you mean {quoted(near)}?"
        rest = f"It can also have {listed(list(map(quoted, offered)), 'or')}."
        return (), rest if offered else "Leave it out."

    def _other_name(self, name: str) -> tuple[tuple[str, ...], str]:
        """Return the keys that say here what `name` says in other steps, and a hint."""
        keys, hint = self.instead[name].keys, self.instead[name].hint
        if all(key in self._pairs for key in keys):
            return keys, f"Leave it out; {listed(list(map(quoted, keys)))} says it already."
        return keys, hint.format(_as_written(self._pairs[name][1]))

    def _start(self) -> str:
        return self.what[0].upper() + self.what[1:]

    def _miss(self, *names: str) -> None:
        self.bad = True
        self._missing.append(names)

    def _read(self, name: str, value: Value[T]) -> T:
        got = value.read(self._pairs[name][1], self.found)
        if got is None:
            self.bad = True
            return value.blank
        return got


def _as_written(node: Node) -> str:
    """Return a value as it may be written again in a hint: a word, or a list of words."""
    if isinstance(node, Scalar):
        return quoted(node.text)[1:-1]
    words = (
        [item.text for item in node.items if isinstance(item, Scalar)]
        if isinstance(node, Sequence)
        else []
    )
    return quoted(f"[{', '.join(words)}]")[1:-1] if words else "…"
