"""Cleaning text for terminals, normalizing names, and joining sentences, lists and plurals."""

import re
from functools import lru_cache
from typing import Final

_UNSEEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f"  # C0 (but tab and line feed), DEL, C1
    "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"  # direction controls
    "\u2028\u2029\ufeff\ufff9-\ufffb\ud800-\udfff"  # separators, byte order mark, surrogates
    "\U000e0000-\U000e007f]"  # language tags
)
_SPACES = re.compile(r"\s+")
_APOSTROPHES = re.compile("[\u2018\u2019\u02bc\u00b4`\u2032]")
_JOINS = re.compile(r"[\s\-\u2010\u2011_]+")
_LONGEST_KEPT: Final = 40
_AN: Final = re.compile(r"[aeio]|8|1[18](?!\d)|1[18]\d{3}(?!\d)")
_LETTERS: Final = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
)  # fmt: skip
_HISSED: Final = ("ch", "sh", "s", "x")
_Y: Final = re.compile(r"(?<=[^aeiou])y$")


def unseen(text: str) -> re.Match[str] | None:
    """Return the first character of `text` that acts on a terminal unseen, or None."""
    return _UNSEEN.search(text)


def clean(text: str) -> str:
    """Return `text` without control, direction and surrogate characters; line feeds stay."""
    return _UNSEEN.sub("", text)


def one_line(text: str) -> str:
    """Return `text` cleaned and on one line, with runs of white space as one space."""
    return _SPACES.sub(" ", clean(text)).strip()


def normalized_name(name: str) -> str:
    """Return a name as names are compared: lower case, one space, straight apostrophe."""
    return _plain(name) if len(name) <= _LONGEST_KEPT else _plain.__wrapped__(name)


@lru_cache(maxsize=1024)  # a file says the same few words over and over
def _plain(name: str) -> str:
    return _JOINS.sub(" ", _APOSTROPHES.sub("'", name)).strip().lower()


def name_key(name: str) -> str:
    """Return the key by which a piece, an order or a label is found, whatever case and spacing."""
    return " ".join(name.split()).casefold()


def file_stem(name: str) -> str:
    """Return a name as the stem of a file name that any system takes, "" if nothing is left."""
    return re.sub(r"[^\w]+", "-", name, flags=re.ASCII).strip("-").lower()[:60]


def join_words(names: list[str] | tuple[str, ...], last: str = "and") -> str:
    """Join names as in a sentence: `a`, `a and b`, `a, b and c`."""
    if len(names) < 2:  # noqa: PLR2004
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"


def plural(noun: str, number: int = 2) -> str:
    """Return the noun for a number of things: `square knot` for 1, else `square knots`."""
    if number == 1:
        return noun
    if _Y.search(noun):
        return _Y.sub("ies", noun)
    return f"{noun}{'es' if noun.endswith(_HISSED) else 's'}"


def counted(number: int, noun: str) -> str:
    """Return a number of things: `1 piece`, `1,204 clove hitches`."""
    return f"{number:,} {plural(noun, number)}"


def with_full_stop(text: str) -> str:
    """Return words with a full stop, unless they end like a sentence already."""
    return text if text.endswith((".", "?", "!", "…")) else f"{text}."


def capital(text: str) -> str:
    """Return a text as it begins a sentence; only its first letter changes."""
    return text[:1].upper() + text[1:]


def number_in_words(number: int) -> str:
    """Return a number as it is read aloud: up to ten in letters, a larger one in figures."""
    return _LETTERS[number] if 0 <= number < len(_LETTERS) else f"{number:,}"


def counted_words(number: int, noun: str) -> str:
    """Return a number of things as it is read aloud: `two clove hitches`, `12 half knots`."""
    return f"{number_in_words(number)} {plural(noun, number)}"


def times_over(number: int) -> str:
    """Return how often something is done: `once`, `twice`, `five times`."""
    return {1: "once", 2: "twice"}.get(number, f"{number_in_words(number)} times")


def an(noun: str) -> str:
    """Return a word, or a number with what follows, with its article: `an 8 mm`, `a knot`."""
    return f"{'an' if _AN.match(noun) else 'a'} {noun}"


def repeats_of(number: int, part: str) -> str:
    """Return how many repeats of a part: `4 waves`; a name that is a plural already stays."""
    return f"{number:,} {part}" if part.endswith("s") else counted(number, part)
