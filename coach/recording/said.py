"""Short sentences of the trade, as steps of a project file.

A sentence says one thing that was done: `row 1 to 6`, `square knots 1-4, 5-8, three times`,
`plait 1-3, 10 cm`. Positions are counted from the left as the work hangs then.
"""

import re
from collections.abc import Callable
from typing import Final, TypeAlias

from coach.knots.names import (
    AROUND_KNOTS,
    BERRY,
    BUNDLE_KNOTS,
    CHAIN,
    FLAT_KNOTS,
    HALF_HITCH,
    JOSEPHINE,
    first_name,
)

_Make: TypeAlias = Callable[[re.Match[str]], str]
NUMBERS: Final = {
    "once": 1, "twice": 2, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
    "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
}  # fmt: skip
FORMS: Final = (
    "row 1 to 6", "reverse row 6 to 1", "row of half hitches 1 to 6", "hitch 1-4 onto the ring",
    "square knots 1-4, 5-8, three times", "half knots 1-4, 12 times", "overhand knot all",
    "josephine knot 1-4", "berry knot of 3 1-4", "half hitch chain 1-2, 20 times",
    "lark's head 1 round 2-3, 6 times", "barrel knot 1, 4 turns",
    "barrel knot 3 round 1-2, 4 turns",
    "gathering knot of reed round all, 3 cm", "net 1-16 by 4, 3 rows, gap 1 cm", "plait 1-3, 10 cm",
    "cross 3 4 1 2", "gap 3 cm on 1-4", "loop 15 mm on 1", "bead 8 mm on 2-3", "turn 4 round 3",
    "turn 4 round a pin", "add 2 clay at 5", "lay aside 3", "take up clay.1a at 1", "turn over",
    "fold back 1-4, loop 15 cm", "trim all to 2 cm", "measure length", "wait 10 min",
    "do Press it flat.",
)  # fmt: skip
"""What can be said of a step, an example of each form."""

_RANGE: Final = r"\d+(?!\d)(?:\s*(?:-|to)\s*\d+(?!\d))?"
_PLACES: Final = rf"(?:all|{_RANGE}(?:\s*(?:,|and)\s*{_RANGE})*)"
_TIMES: Final = r"(?:,?\s*(?:(?P<times>\d+|[a-z]+)\s+times|(?P<adverb>once|twice)))?"
_LONG: Final = r"\d+(?:\.\d+)?\s*(?:mm|cm|in|m)"


class NotUnderstood(ValueError):
    """A sentence that says nothing known; the text says what could be said."""


def number(text: str) -> int | None:
    """Return a number in figures or in words, `3`, `three`, `twice`; None for another word."""
    return int(text) if text.isdecimal() else NUMBERS.get(text)


def step_of(said: str) -> str:
    """Return the step that a sentence says, as keys and values of a project file.

    Raises NotUnderstood.
    """
    text = " ".join(said.strip().rstrip(".").replace("\N{EN DASH}", "-").split())
    if text.casefold().startswith("do "):
        return f"do: {_quoted(text[3:])}"
    plainly = text.casefold().replace("\N{RIGHT SINGLE QUOTATION MARK}", "'")
    for pattern, make in _FORMS:
        match = re.fullmatch(pattern, plainly)
        if match:
            return make(match)
    hint = f"Say, for example, ‘{_near(plainly)}’."
    raise NotUnderstood(f"‘{text}’ says nothing that is known here. {hint}")


def completions(begun: str) -> tuple[str, ...]:
    """Return the forms that a sentence so begun could take."""
    plainly = " ".join(begun.casefold().split())
    return tuple(form for form in FORMS if form.casefold().startswith(plainly))


def _near(text: str) -> str:
    first = text.split(maxsplit=1)[0] if text else ""
    return next((form for form in FORMS if first and form.startswith(first[:3])), FORMS[0])


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _list(text: str) -> str:
    """Return positions as a project file has them: `1-4`, `[1, 4]`, `all`."""
    parts = [re.sub(r"\s*(?:-|to)\s*", "-", part.strip()) for part in re.split(r",|and", text)]
    return parts[0] if len(parts) == 1 else f"[{', '.join(parts)}]"


def _groups(text: str) -> str:
    found = _list(text)
    return f"strands: {found}" if not found.startswith("[") else f"groups: {found}"


def _often(match: re.Match[str]) -> str:
    said = match["times"] or match["adverb"]
    times = number(said) if said else 1
    if times is None:
        raise NotUnderstood(f"‘{said}’ is no number here. Say, for example, ‘three times’.")
    return f", times: {times}" if times != 1 else ""


def knot_said(name: str) -> str:
    """Return a knot by its first name, said of one or of several. Raises NotUnderstood."""
    for form in (name, name.removesuffix("s"), re.sub(r"(hitch)es\b", r"\1", name)):
        found = first_name(form, in_row=True)
        if found:
            return found
    raise NotUnderstood(f"Unknown knot ‘{name}’. ‘coach how’ lists them.")


def _row(match: re.Match[str]) -> str:
    mover, last = int(match["from"]), int(match["to"])
    if mover == last:
        raise NotUnderstood("A row goes from one strand to another, as in ‘row 1 to 6’.")
    way = 1 if last > mover else -1
    reverse = bool(match["reverse"])
    knot = knot_said(match["knot"]) if match["knot"] else "clove hitch"
    knot = (
        {"clove hitch": "reverse clove hitch", "lark's head": "reverse lark's head"}.get(knot, knot)
        if reverse
        else knot
    )
    role = "knotter" if knot.startswith("reverse") or (reverse and knot == HALF_HITCH) else "holder"
    near = mover + way
    across = f"{near}-{last}" if near != last else f"{near}"
    return f'row: "{knot}", {role}: {mover}, across: {across}'


def _tied(match: re.Match[str]) -> str:
    knot = knot_said(match["knot"])
    if knot not in (*FLAT_KNOTS, *BUNDLE_KNOTS, JOSEPHINE, CHAIN, BERRY):
        raise NotUnderstood(f"Say who ties the {knot} round whom, as in ‘{knot} 1 round 2-3’.")
    of = f", of: {match['of']}" if match["of"] else ""
    return f"knot: {knot}, {_groups(match['places'])}{of}{_often(match)}"


def _around(match: re.Match[str]) -> str:
    knot = knot_said(match["knot"])
    if knot not in AROUND_KNOTS:
        raise NotUnderstood(f"The {knot} is not tied by one strand round others.")
    around = _list(match["places"])
    return f'knot: "{knot}", knotter: {match["who"]}, around: {around}{_often(match)}'


def _net(match: re.Match[str]) -> str:
    of = knot_said(match["of"]) if match["of"] else "square knot"
    gap = f", gap: {match['gap']}" if match["gap"] else ""
    rows = number(match["rows"])
    groups = re.sub(r"\s*(?:-|to)\s*", "-", match["places"])
    return f"net: {groups} by {match['by']}, of: {of}, rows: {rows}{gap}"


def _add(match: re.Match[str]) -> str:
    pieces = match["pieces"]
    onto = f", onto: {match['onto']}" if match["onto"] else ""
    return f"add: [{pieces}], at: {match['at']}{onto}"


def _cross(match: re.Match[str]) -> str:
    return f"cross: [{', '.join(re.findall(r'[0-9]+', match['order']))}]"


def _as(template: str) -> _Make:
    """Return what writes a step of the words of a sentence, positions as the file has them."""

    def make(match: re.Match[str]) -> str:
        words = {name: word or "" for name, word in match.groupdict().items()}
        words["places"] = _list(words.get("places", "all"))
        return template.format(**words)

    return make


_KNOT: Final = r"(?:\d+ )?(?P<knot>[a-z' ]+?)"
_ON: Final = rf"(?P<places>{_PLACES})"
_MM: Final = rf"(?P<long>{_LONG})"
_ROW: Final = r"(?P<reverse>reverse )?row(?: of (?P<knot>[a-z' ]+?))?"
_ONTO: Final = r"(?:the |a )?(?P<onto>ring|dowel|bar|buckle|cord)"
_ROWS: Final = r"(?:,? (?P<of>[a-z ]*knots?))?,? (?P<rows>\w+) rows?"
_BARREL: Final = "knot: barrel knot, {what}, turns: {{turns}}"
_FORMS: Final[tuple[tuple[str, _Make], ...]] = (
    (rf"{_ROW} (?P<from>\d+)\s*(?:to|-)\s*(?P<to>\d+)", _row),
    (rf"hitch {_ON} onto {_ONTO}", _as("row: clove hitch, holder: {onto}, across: {places}")),
    (rf"barrel knots? (?P<who>\d+) round {_ON},? (?P<turns>\d+) turns",
     _as(_BARREL.format(what="knotter: {who}, around: {places}"))),
    (r"barrel knots? (?P<who>\d+),? (?P<turns>\d+) turns",
     _as(_BARREL.format(what="strands: {who}"))),
    (rf"gathering knot of (?P<cord>.+?) round {_ON},? {_MM}",
     _as("knot: gathering knot, wrap: {cord}, around: {places}, length: {long}")),
    (rf"(?:plait|braid) {_ON},? {_MM}", _as("braid: {places}, length: {long}")),
    (rf"(?:plait|braid) {_ON},? (?P<number>\d+) crossings",
     _as("braid: {places}, crossings: {number}")),
    (rf"net (?P<places>{_RANGE}) by (?P<by>\d+){_ROWS}(?:,? gap (?P<gap>{_LONG}))?", _net),
    (r"cross (?P<order>\d+(?:[ ,]+\d+)*)", _cross),
    (rf"gap {_MM}", _as("space: {long}")),
    (rf"gap {_MM} on {_ON}", _as("space: {long}, strands: {places}")),
    (rf"loop {_MM} on {_ON}", _as("picot: {long}, strands: {places}")),
    (rf"bead {_MM} on {_ON}", _as("bead: {places}, size: {long}")),
    (r"turn (?P<who>\d+) round (?:a )?(?P<what>pin|\d+)", _as("turn: {who}, around: {what}")),
    (r"add (?P<pieces>.+?) at (?P<at>\d+)(?: onto (?P<onto>\d+))?", _add),
    (rf"lay aside {_ON}", _as("lay aside: {places}")),
    (rf"lay aside {_ON},? leave {_MM}", _as("lay aside: {places}, leave: {long}")),
    (r"take up (?P<who>\S+) at (?P<at>\d+)", _as("take up: {who}, at: {at}")),
    (r"turn (?:the work )?over", _as("flip: piece")),
    (r"turn (?:the work )?end for end", _as("flip: end for end")),
    (rf"fold back {_ON},? loop {_MM}", _as("fold back: {places}, loop: {long}")),
    (r"bring down (?P<ends>.+?) at (?P<at>\d+)", _as("bring down: [{ends}], at: {at}")),
    (r"seam (?P<at>\d+)", _as("seam: {at}")),
    (rf"trim {_ON} to {_MM}", _as("trim: {places}, leave: {long}")),
    (r"measure (?P<what>length|width)", _as("measure: {what}")),
    (r"wait (?P<time>[\d a-z]+)", _as("wait: {time}")),
    (rf"{_KNOT} (?P<who>\d+) round {_ON}{_TIMES}", _around),
    (rf"{_KNOT}(?: of (?P<of>\d+))? (?:on )?{_ON}{_TIMES}", _tied),
)  # fmt: skip
