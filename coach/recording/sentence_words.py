"""Words of sentences (strands, numbers, lengths, knots) as a project file writes them."""

import re
from typing import Final

from coach.knots.names import first_name

NUMBERS: Final = {
    "once": 1, "twice": 2, "a": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
    "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13,
    "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19,
    "twenty": 20,
}  # fmt: skip
_MOST_DIGITS: Final = 9

NUMBER: Final = rf"(?:\d+|{'|'.join(NUMBERS)})"
RANGE: Final = r"\d+(?!\d)(?:\s*(?:-|to)\s*\d+(?!\d))?"
PLACES: Final = rf"(?:all|{RANGE}(?:\s*(?:,|and)\s*{RANGE})*)"
_SOME: Final = r"(?:about )?(?:\d+|[a-z]+)(?: or more)?"
TIMES: Final = rf"(?:,?\s*(?:(?P<times>{_SOME})\s+times|(?P<adverb>once|twice)))?"
LONG: Final = r"(?:about )?\d+(?:[./]\d+)?\s*(?:mm|cm|in|m|\")(?: or more)?"
TURNS: Final = rf"(?P<turns>{_SOME}) turns?"
ON: Final = rf"(?P<places>{PLACES})"
MM: Final = rf"(?P<long>{LONG})"
NAME: Final = r"[^\W\d_][\w' -]*?"


class NotUnderstood(ValueError):
    """A sentence without a known meaning, or an impossible one; the text says what to say."""


def number_from_words(text: str) -> int | None:
    """Return a number in figures or in words, `3`, `three`, `twice`; None for another word."""
    if text.isascii() and text.isdecimal():
        return int(text[: _MOST_DIGITS + 1])
    return NUMBERS.get(text)


def figure_of(text: str) -> str:
    """Return `about thirty` or `4 or more` with its number in figures. Raises NotUnderstood."""
    found = re.fullmatch(r"(about )?(\w+)( or more)?", text.casefold())
    read = number_from_words(found[2]) if found else None
    if not found or not read:
        raise NotUnderstood(f"‘{text}’ is not a number I know. Say, for example, ‘three times’.")
    return f"{found[1] or ''}{read}{found[3] or ''}"


def place_list(text: str) -> str:
    """Return positions as a project file has them: `1-4`, `[1, 4]`, `all`."""
    parts = [re.sub(r"\s*(?:-|to)\s*", "-", part.strip()) for part in re.split(r",|and", text)]
    parts = ["all"] if text.casefold() == "all" else parts
    return parts[0] if len(parts) == 1 else f"[{', '.join(parts)}]"


def group_keys(text: str) -> str:
    """Return the strands of one group, or those of several, with their key."""
    found = place_list(text)
    return f"groups: {found}" if found.startswith("[") else f"strands: {found}"


def times_key(match: re.Match[str], groups: int = 1) -> str:
    """Return how often something is done in each of some groups, with its key; "" for once.

    `3 square knots 1-4` means the same as `square knots 1-4, three times`.

    Args:
        match: The match of the sentence.
        groups: How many groups there are.

    Raises:
        NotUnderstood: The number stands twice, or is out of range.
    """
    said = match["times"] or match["adverb"]
    many = match.groupdict().get("many")
    if many and (said or groups > 1) and figure_of(many) != str(groups):
        raise NotUnderstood("Say how often at the end, as in ‘square knots 1-4, 5-8, twice’.")
    figure = figure_of(said or (many if many and groups == 1 else "once"))
    return f", times: {figure}" if figure != "1" else ""


def group_count(text: str) -> int:
    """Return how many groups a list of places names."""
    return len(re.split(r",|and", text))


def knot_said(name: str) -> str:
    """Return a knot by its first name, from singular or plural. Raises NotUnderstood."""
    for form in (name, name.removesuffix("s"), re.sub(r"(hitch)es\b", r"\1", name),
                 re.sub(r"heads\b", "head", name)):  # fmt: skip
        found = first_name(form, in_row=True)
        if found:
            return found
    raise NotUnderstood(f"Unknown knot ‘{name}’. `coach how` lists them.")


def in_quotes(text: str) -> str:
    """Return a text as a double-quoted YAML scalar."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
