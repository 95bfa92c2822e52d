"""The one place where text from outside is made harmless for a terminal."""

import re

_UNSEEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f"  # C0 (but tab and line feed), DEL, C1
    "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"  # direction controls
    "\u2028\u2029\ufeff\ufff9-\ufffb\ud800-\udfff"  # separators, byte order mark, surrogates
    "\U000e0000-\U000e007f]"  # language tags
)
_SPACES = re.compile(r"\s+")


def unseen(text: str) -> re.Match[str] | None:
    """Return the first character of `text` that acts on a terminal unseen, or None."""
    return _UNSEEN.search(text)


def clean(text: str) -> str:
    """Return `text` without control, direction and surrogate characters; lines are kept."""
    return _UNSEEN.sub("", text)


def one_line(text: str) -> str:
    """Return `text` cleaned and on one line, with runs of white space as one space."""
    return _SPACES.sub(" ", clean(text)).strip()


def listed(names: list[str] | tuple[str, ...], last: str = "and") -> str:
    """Join names as in a sentence: `a`, `a and b`, `a, b and c`."""
    if len(names) < 2:  # noqa: PLR2004
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"


def capital(text: str) -> str:
    """Return a text as it begins a sentence; only its first letter changes."""
    return text[:1].upper() + text[1:]
