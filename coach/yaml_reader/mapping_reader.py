"""Reading a mapping key by key; keys that no reader asks for are reported as unknown."""

from collections.abc import Mapping as Names
from typing import Any, TypeVar

from coach.text import join_words
from coach.yaml_reader.collector import ReadingProblems, quoted
from coach.yaml_reader.declarations import (
    NONE_INSTEAD,
    Instead,
    Key,
    Keys,
    OneOf,
    Value,
    first_key,
)
from coach.yaml_reader.diagnostics import Span
from coach.yaml_reader.nodes import Mapping, Node, Scalar, Sequence

T = TypeVar("T")
D = TypeVar("D")


class Fields:
    """The keys of one mapping; `bad` becomes true when a key asked for could not be read."""

    def __init__(self, node: Mapping, found: ReadingProblems, what: str) -> None:
        """Take a mapping; a second key with the same meaning is reported.

        Args:
            node: The mapping.
            found: Collects problems.
            what: What the mapping is, for messages: `a cord`.
        """
        self.found = found
        self.what = what  # as in "a cord", for messages
        self.instead: Names[str, Instead] = NONE_INSTEAD
        self.bad = False
        self._pairs: dict[str, tuple[Scalar, Node]] = {}
        self._asked: list[str] = []
        self._missing: list[tuple[Key[Any], ...]] = []
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
        """Report missing keys at this key, the one that says what kind of mapping it is."""
        self._span = self.span(name)

    def span(self, name: str = "") -> Span:
        """Return the place of a key, or of the mapping if the key is missing."""
        return self._pairs[name][0].span if name in self._pairs else self._span

    def node(self, name: str) -> Node | None:
        """Return the unread value of a key, or None if the key is missing."""
        return self._pairs[name][1] if name in self._pairs else None

    def value_span(self, name: str) -> Span:
        """Return the place of a key's value, or of the mapping if the key is missing."""
        return self._pairs[name][1].span if name in self._pairs else self._span

    def written(self, name: str) -> str:
        """Return the text of a key's value, "" unless it is a scalar."""
        node = self._pairs[name][1] if name in self._pairs else None
        return node.text if isinstance(node, Scalar) else ""

    def get(self, name: str, value: Value[T], default: D) -> T | D:
        """Return the value of an optional key.

        Args:
            name: The key.
            value: The kind of its value.
            default: What is returned if the key is missing.
        """
        self._asked.append(name)
        return self._read(name, value) if name in self._pairs else default

    def take(self, key: Key[T], default: D) -> T | D:
        """Return the value of a declared optional key."""
        return self.get(key.name, key.value, default)

    def need(self, key: Key[T]) -> T:
        """Return the value of a required key."""
        self._asked.append(key.name)
        if key.name not in self._pairs:
            self._miss(key)
            return key.value.blank
        return self._read(key.name, key.value)

    def given(self, keys: Keys) -> dict[str, Any]:
        """Return the values of declared keys, by field, without missing optional ones.

        A missing required key has its blank; so have alternatives, None where none is required.
        """
        found: dict[str, Any] = {}
        for field, entry in keys.items():
            if isinstance(entry, OneOf):
                found[field] = self._either(entry)
            elif entry.needed or entry.name in self._pairs:
                found[field] = self.need(entry)
            else:
                self._asked.append(entry.name)
        return found

    def _either(self, choice: OneOf) -> Any:
        key = self.one_of(choice)
        if key:
            return self.need(key)
        return choice.keys[0].value.blank if choice.needed else None

    def ignore(self, *names: str) -> None:
        """Mark keys as known without reading them, where they cannot be judged."""
        self._asked.extend(names)

    def one_of(self, choice: OneOf) -> Key[Any] | None:
        """Return which of some alternative keys is here, None for none or more than one."""
        names = [key.name for key in choice.keys]
        self._asked.extend(names)
        here = [key for key in choice.keys if key.name in self._pairs]
        if len(here) == 1:
            return here[0]
        if here:
            both = join_words([quoted(key.name) for key in here])
            span = self.span(here[1].name)
            self.fail("EXCLUSIVE", span, f"{both} cannot stand together.", "Keep one.")
        elif choice.needed:
            self._miss(*choice.keys)
        return None

    def some_of(self, *keys: Key[Any]) -> None:
        """Report keys as missing if none of them is here."""
        self._asked.extend(key.name for key in keys)
        if not any(key.name in self._pairs for key in keys):
            self._miss(*keys)

    def fail(self, code: str, span: Span, message: str, hint: str = "") -> None:
        """Report an error that makes this mapping unusable.

        Args:
            code: Its code, one of `coach.yaml_reader.codes`.
            span: Where in the file it is.
            message: What is wrong, in a sentence.
            hint: What to do, in a sentence.
        """
        self.bad = True
        self.found.error(code, span, message, hint)

    def finish(self) -> None:
        """Report unknown and missing keys, once all keys have been asked for."""
        unknown = [name for name in self._pairs if name not in self._asked]
        meant = {key for name in unknown for key in self._unknown(name)}
        missing = [keys for keys in self._missing if not any(key.name in meant for key in keys)]
        if missing:
            needed = join_words(
                [join_words([quoted(key.name) for key in keys], "or") for keys in missing]
            )
            hint = f"Add, for example, {join_words([self._examples(keys) for keys in missing])}."
            self.fail("MISSING-KEY", self._span, f"{self._start()} needs {needed}.", hint)

    def _examples(self, keys: tuple[Key[Any], ...]) -> str:
        return join_words([f"‘{key.written(self.found)}’" for key in keys], "or")

    def _unknown(self, name: str) -> tuple[str, ...]:
        """Report an unknown key; return the keys that it was probably meant to be."""
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
        rest = f"It can also have {join_words(list(map(quoted, offered)), 'or')}."
        return (), rest if offered else "Leave it out."

    def _other_name(self, name: str) -> tuple[tuple[str, ...], str]:
        """Return the keys that mean here what `name` means in other steps, and a hint."""
        keys, hint = self.instead[name].keys, self.instead[name].hint
        if all(key in self._pairs for key in keys):
            return keys, f"Leave it out; {join_words(list(map(quoted, keys)))} says it already."
        return keys, hint.format(_as_written(self._pairs[name][1]))

    def _start(self) -> str:
        return self.what[0].upper() + self.what[1:]

    def _miss(self, *keys: Key[Any]) -> None:
        self.bad = True
        self._missing.append(keys)

    def _read(self, name: str, value: Value[T]) -> T:
        got = value.read(self._pairs[name][1], self.found)
        if got is None:
            self.bad = True
            return value.blank
        return got


def _as_written(node: Node) -> str:
    """Return a value as text for a hint: a scalar, or a list of scalars."""
    if isinstance(node, Scalar):
        return quoted(node.text)[1:-1]
    words = (
        [item.text for item in node.items if isinstance(item, Scalar)]
        if isinstance(node, Sequence)
        else []
    )
    return quoted(f"[{', '.join(words)}]")[1:-1] if words else "…"
