"""Findings as project files name them, `one 8 mm wooden bead`: number and kind."""

import re
from collections.abc import Iterable, Mapping
from typing import Final, TypeVar

from coach.text import plain

T = TypeVar("T")

_WORDS: Final = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
    "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "a pair of": 2,
}  # fmt: skip
# A figure counts where no unit follows it: the 25 of a 25 mm ring counts nothing.
_COUNT: Final = re.compile(
    rf"(?:([0-9]{{1,4}})(?:\s*[x×]\s*|\s+(?!(?:mm|cm|m|in|inch)\b))|({'|'.join(_WORDS)})\s+)(.+)",  # noqa: RUF001 - the sign is meant
    re.IGNORECASE,
)


def counted_finding(text: str) -> tuple[int, str]:
    """Return the number and kind in a text: `one 8 mm bead` is 1 of `8 mm bead`."""
    found = _COUNT.fullmatch(text.strip())
    if not found:
        return 1, text.strip()
    return int(found[1]) if found[1] else _WORDS[found[2].lower()], found[3]


def tally(findings: Iterable[str], copies: int) -> dict[str, int]:
    """Return how many of each finding a number of copies needs, in the order of the file."""
    found: dict[str, int] = {}
    for text in findings:
        number, what = counted_finding(text)
        found[what] = found.get(what, 0) + number * copies
    return found


def named(what: str, known: Mapping[str, T]) -> T | None:
    """Return the entry for a finding by its name, in singular or plural; None for none."""
    by_name = {_bare(name): value for name, value in known.items()}
    return by_name.get(_bare(what))


def _bare(name: str) -> str:
    text = plain(counted_finding(name)[1])
    return text[:-1] if text.endswith("s") and not text.endswith("ss") else text
