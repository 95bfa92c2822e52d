"""Reading a folder's settings, with every problem in its place."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Final, TypeVar

from coach.knots import names
from coach.settings.key_bindings import keys_for
from coach.settings.overrides import Kept
from coach.settings.settings import (
    CHARACTERS,
    COUNT_BY,
    PICTURES,
    SKILLS,
    THEMES,
    UNITS,
    CountBy,
    Settings,
)
from coach.text import normalized_name
from coach.yaml_reader.collector import ReadingProblems, limited, quoted
from coach.yaml_reader.declarations import Value
from coach.yaml_reader.diagnostics import Problem
from coach.yaml_reader.file_loader import load
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.nodes import Mapping as Tree
from coach.yaml_reader.nodes import Node, Scalar, parse
from coach.yaml_reader.render import as_lines
from coach.yaml_reader.scalars import BOOLEAN, TEXT, TIME, choice, whole_number, word

T = TypeVar("T")

MOST_BOUNCE_MS: Final = 5_000
_MOST_EVERY: Final = 1_000
_NEVER: Final = ("no", "never", "off")
_MS = re.compile(r"([0-9]{1,5})\s*ms")
_DEFAULT: Final = Settings()


@dataclass(frozen=True, slots=True)
class SettingsReading:
    """Settings read from a file, defaults where it is wrong, and the problems."""

    settings: Settings
    problems: tuple[Problem, ...]


def read_settings(text: str, actions: Mapping[str, tuple[str, ...]]) -> SettingsReading:
    """Read the text of a settings file; never raises because of what it says.

    Args:
        text: The text; an empty one leaves all settings at their defaults.
        actions: All actions that keys can be given to, with their default keys.
    """
    found = ReadingProblems()
    root = parse(text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n"), found)
    if isinstance(root, Tree):
        settings = _settings(Fields(root, found, "the settings file"), actions)
    else:
        settings = _DEFAULT
        if root is not None and not (isinstance(root, Scalar) and not root.text):
            hint = "Write a name, a colon and what it should be, as in ‘theme: light’."
            found.error("SHAPE", root.span, "These are not settings.", hint)
    return SettingsReading(settings, limited(found.sorted()))


def _settings(fields: Fields, actions: Mapping[str, tuple[str, ...]]) -> Settings:
    default = _DEFAULT
    bell = fields.get("bell", _switch("the bell", _bell, _RINGING), _RINGING)
    speech = fields.get("speech", _switch("speech", _speech, _QUIET), _QUIET)
    settings = Settings(
        keys=fields.get("keys", keys_for(actions), default.keys),
        any_key=fields.get("any key counts", BOOLEAN, default.any_key),
        bounce_ms=fields.get("bounce", Value(_bounce, default.bounce_ms), default.bounce_ms),
        count_by=fields.get("count by", choice(COUNT_BY), default.count_by),
        count_by_knot=fields.get(
            "count by knot", Value(_by_knot, default.count_by_knot), default.count_by_knot
        ),
        units=fields.get("units", choice(UNITS), default.units),
        theme=fields.get("theme", choice(THEMES), default.theme),
        characters=fields.get("characters", choice(CHARACTERS), default.characters),
        picture=fields.get("picture", choice(PICTURES), default.picture),
        bell_step=bell[0],
        bell_repeat=bell[1],
        speech=speech[0],
        speech_program=speech[1],
        speech_every=speech[2],
        keep_awake=fields.get("keep awake", _instead(BOOLEAN, default.keep_awake), True),
        rest_after_min=fields.get(
            "rest after", Value(_rest, default.rest_after_min), default.rest_after_min
        ),
        skill=fields.get("skill", Value(choice(SKILLS).read, default.skill), default.skill),
    )
    fields.finish()
    return settings


_RINGING: Final = (_DEFAULT.bell_step, _DEFAULT.bell_repeat)
_QUIET: Final = (_DEFAULT.speech, _DEFAULT.speech_program, _DEFAULT.speech_every)


def _instead(value: Value[T], blank: T) -> Value[T]:
    """Return the same reader with another value for what cannot be read."""
    return Value(value.read, blank)


def _switch(what: str, read: Callable[[Fields | bool], T], blank: T) -> Value[T]:
    """Return a reader of `yes`, `no` or a mapping with details.

    Args:
        what: The name of the mapping in messages.
        read: Make the value of either.
        blank: The value where nothing can be read.
    """

    def reader(node: Node, found: ReadingProblems) -> T | None:
        if not isinstance(node, Tree):
            on = BOOLEAN.read(node, found)
            return None if on is None else read(on)
        fields = Fields(node, found, what)
        got = read(fields)
        fields.finish()
        return got

    return Value(reader, blank)


def _bell(said: Fields | bool) -> tuple[bool, bool]:
    """Read whether the bell rings at the end of a step, and of a repeat."""
    if isinstance(said, bool):
        return said, said
    step = said.get("step", _instead(BOOLEAN, _DEFAULT.bell_step), _DEFAULT.bell_step)
    return step, said.get("repeat", _instead(BOOLEAN, _DEFAULT.bell_repeat), _DEFAULT.bell_repeat)


def _speech(said: Fields | bool) -> tuple[bool, str, int]:
    """Read whether to speak, with which program, and after how many counts to speak one."""
    if isinstance(said, bool):
        return said, _DEFAULT.speech_program, _DEFAULT.speech_every
    every = whole_number(0, _MOST_EVERY)
    return (
        said.get("on", BOOLEAN, _DEFAULT.speech),
        said.get("program", TEXT, _DEFAULT.speech_program),
        said.get("every", _instead(every, _DEFAULT.speech_every), _DEFAULT.speech_every),
    )


def _bounce(node: Node, found: ReadingProblems) -> int | None:
    scalar = word(node, found, "a time in ms")
    if scalar is None:
        return None
    written = _MS.fullmatch(scalar.text.strip())
    ms = 0 if scalar.text.strip() == "0" else int(written[1]) if written else -1
    if 0 <= ms <= MOST_BOUNCE_MS:
        return ms
    message = f"{quoted(scalar.text)} is not a time within which a key bounces."
    hint = f"Write it as in ‘150 ms’, from 0 to {MOST_BOUNCE_MS} ms."
    found.error("QUANTITY", scalar.span, message, hint)
    return None


def _rest(node: Node, found: ReadingProblems) -> int | None:
    if isinstance(node, Scalar) and normalized_name(node.text) in _NEVER:
        return 0
    seconds = TIME.read(node, found)
    return None if seconds is None else max(1, round(seconds / 60))


def _by_knot(node: Node, found: ReadingProblems) -> Mapping[str, CountBy] | None:
    if not isinstance(node, Tree):
        hint = "Write a knot, a colon and tie, pass or step."
        found.error("SHAPE", node.span, "This is set knot by knot.", hint)
        return None
    chosen: dict[str, CountBy] = {}
    for key, value in node.pairs:
        knot = names.first_name(key.text, in_row=True)
        by = choice(COUNT_BY).read(value, found)
        if knot is None:
            hint = found.suggest(normalized_name(key.text), (*names.KNOTS, *names.SYNONYMS))
            found.error("KNOT", key.span, f"No knot is called {quoted(key.text)}.", hint)
        elif by:
            chosen[knot] = by
    return MappingProxyType(chosen)


FILE: Final = "settings.yaml"
CHANGES: Final = "changed-on-the-bench.json"


@dataclass(frozen=True, slots=True)
class LoadedSettings:
    """The settings in use, and the report on their file, empty if all is well."""

    kept: Kept
    report: tuple[str, ...] = ()


def load_settings(folder: Path, actions: Mapping[str, tuple[str, ...]]) -> LoadedSettings:
    """Load the settings in a folder; without a file there, the defaults.

    Args:
        folder: Where the maker's file is, and what was changed on the bench.
        actions: All actions that keys can be given to, with their default keys.
    """
    path = folder / FILE
    loaded = load(path)
    if any(problem.code == "MISSING-FILE" for problem in loaded.problems):
        return LoadedSettings(Kept(path=folder / CHANGES))
    reading = read_settings(loaded.text or "", actions)
    problems = (*loaded.problems, *reading.problems)
    kept = Kept(reading.settings, folder / CHANGES)
    return LoadedSettings(kept, tuple(as_lines(str(path), loaded.text or "", problems)))
