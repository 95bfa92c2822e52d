"""The grammar of sentences: from the trade's words to steps of a project file.

A sentence states one thing that was done: `row 1 to 6`, `square knots 1-4, 5-8, three times`,
`plait 1-3, 10 cm`. Positions are counted from the left as the work hangs then.
"""

import re
from collections.abc import Callable, Collection
from typing import Final, TypeAlias

from coach.knots.names import (
    AROUND_KNOTS,
    BERRY,
    BUNDLE_KNOTS,
    CHAIN,
    CLOVE,
    FLAT_KNOTS,
    HALF_HITCH,
    JOSEPHINE,
    LARKS_HEAD,
    REVERSE_CLOVE,
    REVERSE_LARKS_HEAD,
)
from coach.recording.examples import nearest_example
from coach.recording.sentence_words import (
    LONG,
    MM,
    NUMBER,
    ON,
    PLACES,
    RANGE,
    TIMES,
    TURNS,
    NotUnderstood,
    figure_of,
    group_count,
    group_keys,
    in_quotes,
    knot_said,
    number_from_words,
    place_list,
    times_key,
)

_Make: TypeAlias = Callable[[re.Match[str]], str]
_REVERSED: Final = {CLOVE: REVERSE_CLOVE, LARKS_HEAD: REVERSE_LARKS_HEAD}
_LIES: Final = {"level": "level", "slanting": "slant"}
_SIGNS: Final = re.compile(r"[{}\[\]&*!|>@`\\#]|(?<!\d)\"")
_SIDES: Final = {"narrowing": ", sides: narrow", "widening": ", sides: widen"}
_LAYERS: Final = {"in front": ", layer: front", "behind": ", layer: behind"}


def step_of(said: str, own: Collection[str] = ()) -> str:
    """Return the step that a sentence means, as keys and values of a project file.

    Args:
        said: The sentence.
        own: The names of the piece's own knots.

    Raises:
        NotUnderstood: No form of sentence fits.
    """
    text = " ".join(said.strip().replace("\N{EN DASH}", "-").split())
    if text.casefold().startswith("do "):
        return f"do: {in_quotes(text[3:].rstrip('.'))}"
    text = text.rstrip(".")
    if _SIGNS.search(text):
        raise NotUnderstood(f"‘{_short(text)}’ is not clear: leave out signs such as brackets.")
    plainly = text.replace("\N{RIGHT SINGLE QUOTATION MARK}", "'")
    for name in own:
        mine = rf"{re.escape(name)}s? (?:on )?{ON}{TIMES}"
        tied = re.fullmatch(mine, plainly, re.IGNORECASE)
        if tied:
            return f"knot: {in_quotes(name)}, {group_keys(tied['places'])}{times_key(tied)}"
    for pattern, make in _FORMS:
        match = re.fullmatch(pattern, plainly, re.IGNORECASE)
        if match:
            return make(match)
    grouped = re.fullmatch(_EACH, text, re.IGNORECASE)
    if grouped:
        return _each(grouped, own)
    raise NotUnderstood(f"‘{_short(text)}’ is not clear. {_for_example(plainly)}")


def _short(text: str) -> str:
    most = 60
    return text if len(text) <= most else f"{text[: most - 1]}…"


def _for_example(text: str) -> str:
    return f"Say, for example, ‘{nearest_example(text)}’." if text else "Say what you knotted."


def _row(match: re.Match[str]) -> str:
    mover, last = int(match["from"]), int(match["to"])
    if mover == last:
        raise NotUnderstood("A row goes from one strand to another, as in ‘row 1 to 6’.")
    way = 1 if last > mover else -1
    knot = knot_said(match["knot"]) if match["knot"] else CLOVE
    reverse = bool(match["reverse"])
    knot = _REVERSED.get(knot, knot) if reverse else knot
    knots = knot.startswith("reverse") or (reverse and knot == HALF_HITCH)
    near = mover + way
    across = f"{near}-{last}" if near != last else f"{near}"
    role = "knotter" if knots else "holder"
    return f'row: "{knot}", {role}: {mover}, across: {across}{_lying(match)}{times_key(match)}'


def _lying(match: re.Match[str]) -> str:
    lie = f", lie: {_LIES[match['lie'].casefold()]}" if match["lie"] else ""
    slope = f", slope: {match['slope']}°" if match["slope"] else ""
    first = f", first: {match['first']}" if match["first"] else ""
    return f"{lie}{slope}{first}"


def _weave(match: re.Match[str]) -> str:
    knots = []
    for some in re.split(r",|and", match["knots"]):
        many, _, name = some.strip().partition(" ")
        count = number_from_words(many)
        knots.append(f"{count} {knot_said(name)}" if count else f"1 {knot_said(some.strip())}")
    across = place_list(match["places"])
    return f"weave: {match['who']}, across: {across}, knots: [{', '.join(knots)}]"


def _hitched(match: re.Match[str]) -> str:
    knot = knot_said(match["knot"]) if match["knot"] else CLOVE
    thick = f", diameter: {match['thick']}" if match["thick"] else ""
    across, often = place_list(match["places"]), times_key(match)
    return f'row: "{knot}", holder: {match["onto"]}, across: {across}{thick}{often}'


def _tied(match: re.Match[str]) -> str:
    knot = knot_said(match["knot"])
    if knot not in (*FLAT_KNOTS, *BUNDLE_KNOTS, JOSEPHINE, CHAIN, BERRY):
        raise NotUnderstood(f"Say who ties the {knot} round whom, as in ‘{knot} 1 round 2-3’.")
    of = f", of: {match['of']}" if match["of"] else ""
    large = f", size: {match['large']}" if match["large"] else ""
    often = times_key(match, group_count(match["places"]))
    return f"knot: {knot}, {group_keys(match['places'])}{of}{large}{often}"


def _around(match: re.Match[str]) -> str:
    knot = _of_around(match["knot"])
    around = place_list(match["places"])
    return f'knot: "{knot}", knotter: {match["who"]}, around: {around}{times_key(match)}'


def _longest(match: re.Match[str]) -> str:
    knot, strands = _of_around(match["knot"]), place_list(match["places"])
    return f'knot: "{knot}", knotter: longest, strands: {strands}{times_key(match)}'


def _of_around(name: str) -> str:
    knot = knot_said(name)
    if knot not in AROUND_KNOTS:
        raise NotUnderstood(f"The {knot} is not tied by one strand round others.")
    return knot


def _clasp(match: re.Match[str]) -> str:
    knot = knot_said(match["knot"])
    if knot not in FLAT_KNOTS:
        raise NotUnderstood(f"The {knot} is not tied with a piece of its own.")
    places = group_keys(match["places"])
    return f"knot: {knot}, {places}, with: {match['cord']}{times_key(match)}"


def _barrel(match: re.Match[str]) -> str:
    turns = figure_of(match["turns"])
    if match["places"]:
        who = f"knotter: {match['who']}, around: {place_list(match['places'])}"
    else:
        who = f"strands: {match['who']}"
    return f"knot: barrel knot, {who}, turns: {turns}"


def _net(match: re.Match[str]) -> str:
    of = knot_said(match["of"]) if match["of"] else "square knot"
    gap = f", gap: {match['gap']}" if match["gap"] else ""
    groups = re.sub(r"\s*(?:-|to)\s*", "-", match["places"])
    rows = f", rows: {figure_of(match['rows'])}{_SIDES.get((match['sides'] or '').casefold(), '')}"
    return f"net: {groups} by {match['by']}, of: {of}{rows}{gap}"


def _add(match: re.Match[str]) -> str:
    onto = f", onto: {match['onto']}" if match["onto"] else ""
    by = f', by: "{match["by"]}"' if match["by"] else ""
    fold = ", fold: none" if match["single"] else ""
    return f"add: [{match['pieces']}], at: {match['at']}{onto}{by}{fold}"


def _cross(match: re.Match[str]) -> str:
    return f"cross: [{', '.join(re.findall(r'[0-9]+', match['order']))}]"


def _gap(match: re.Match[str]) -> str:
    where = f", {group_keys(match['places'])}" if match["places"] else ""
    return f"space: {match['long']}{where}"


def _attach(match: re.Match[str]) -> str:
    by = f', by: "{match["by"]}"' if match["by"] else ""
    layer = _LAYERS.get((match["layer"] or "").casefold(), "")
    adds = ", adds: length" if match["adds"] else ""
    return f"attach: {match['part']}, at: {place_list(match['places'])}{by}{layer}{adds}"


def _each(match: re.Match[str], own: Collection[str]) -> str:
    """Return steps that are worked on each group, written one after the other."""
    steps = ", ".join(f"{{{step_of(one, own)}}}" for one in match["steps"].split(";"))
    way = (match["way"] or "").casefold()
    mirror = ", mirror: every second" if "mirror" in way else ""
    order = ", order: any" if "any" in way else ""
    groups = re.sub(r"\s*(?:-|to)\s*", "-", match["groups"])
    groups = f"{groups} by {match['by']}" if match["by"] else place_list(match["groups"])
    if not match["by"] and not groups.startswith("["):
        groups = f"[{groups}]"
    return f"each: {groups}{mirror}{order}, steps: [{steps}]"


def _as(template: str) -> _Make:
    """Return a function that writes a step from a sentence's words, by a template."""

    def make(match: re.Match[str]) -> str:
        words = {name: word or "" for name, word in match.groupdict().items()}
        words["places"] = place_list(words.get("places", "all"))
        return template.format(**words)

    return make


_KNOT: Final = rf"(?:(?P<many>{NUMBER}) )?(?P<knot>[a-z' ]+?)"
_ROW: Final = r"(?P<reverse>reverse )?row(?: of (?P<knot>[a-z' ]+?))?"
_LIE: Final = (
    r"(?:,? (?P<lie>level|slanting)(?: at (?P<slope>\d+)(?:°| degrees))?)?"
    r"(?:,? first (?P<first>under|over))?"
)
_ONTO: Final = rf"(?:the |a )?(?P<onto>ring|dowel|bar|buckle|cord)(?:,? (?P<thick>{LONG}) thick)?"
_ROWS: Final = (
    rf"(?:,? (?P<of>[a-z ]*knots?))?,? (?P<rows>\w+) rows?(?:,? (?P<sides>narrowing|widening))?"
    rf"(?:,? gap (?P<gap>{LONG}))?"
)
_HUNG_BY: Final = r"(?:,? (?:by |with )?(?P<by>lark's head|reverse lark's head|laid in)s?)?"
_ATTACHED: Final = (
    r"(?:,? (?P<by>sewn|knotted|looped|lark's head))?(?:,? (?P<layer>in front|behind))?"
    r"(?:,? (?P<adds>adding length))?"
)
_EACH: Final = (
    rf"in each of (?P<groups>{PLACES})(?: by (?P<by>\d+))?"
    r"(?P<way>,? (?:in any order|mirrored every second|every second mirrored))?: (?P<steps>.+)"
)
_SINGLE: Final = r"(?P<single>,? not folded)?"
_LARGE: Final = rf"(?:,? (?P<large>{LONG}) large)?"
_FORMS: Final[tuple[tuple[str, _Make], ...]] = (
    (rf"{_ROW} (?:from )?(?P<from>\d+)\s*(?:to|-)\s*(?P<to>\d+){_LIE}{TIMES}", _row),
    (rf"weave (?P<who>\d+) (?:over|across) {ON}: ?(?P<knots>[a-z0-9, ]+)", _weave),
    (rf"(?:hitch|(?P<knot>[a-z' ]+?)) {ON} onto {_ONTO}{TIMES}", _hitched),
    (rf"barrel knots? (?P<who>\d+)(?: round {ON})?,? {TURNS}", _barrel),
    (rf"gathering knot of (?P<cord>.+?) round {ON},? {MM}",
     _as("knot: gathering knot, wrap: {cord}, around: {places}, length: {long}")),
    (rf"(?:plait|braid) {ON},? (?:for )?{MM}", _as("braid: {places}, length: {long}")),
    (rf"(?:plait|braid) {ON},? (?P<number>\d+) crossings",
     _as("braid: {places}, crossings: {number}")),
    (rf"net (?P<places>{RANGE}) by (?P<by>\d+){_ROWS}", _net),
    (r"cross (?P<order>\d+(?:[ ,]+\d+)*)", _cross),
    (rf"(?:(?:leave )?(?:a )?gap(?: of)?|leave) {MM}(?: on {ON})?", _gap),
    (rf"loop {MM} on {ON}", _as("picot: {long}, strands: {places}")),
    (rf"bead {MM} on {ON}", _as("bead: {places}, size: {long}")),
    (r"turn (?P<who>\d+) round (?:a )?(?P<what>pin|\d+)", _as("turn: {who}, around: {what}")),
    (rf"add (?P<pieces>.+?) at (?P<at>\d+)(?: onto (?P<onto>\d+))?{_HUNG_BY}{_SINGLE}", _add),
    (rf"lay aside {ON}", _as("lay aside: {places}")),
    (rf"lay aside {ON},? leave {MM}", _as("lay aside: {places}, leave: {long}")),
    (r"take up (?P<who>\S+(?:,? (?:and )?\S+)*?) at (?P<at>\d+)",
     _as("take up: [{who}], at: {at}")),
    (r"turn (?:the work )?over", _as("flip: piece")),
    (r"turn (?:the work )?end for end", _as("flip: end for end")),
    (rf"fold back {ON},? loop {MM}", _as("fold back: {places}, loop: {long}")),
    (r"bring down (?P<ends>.+?) at (?P<at>\d+)", _as("bring down: [{ends}], at: {at}")),
    (r"make (?P<part>.+)", _as("make: {part}")),
    (rf"attach (?P<part>.+?) at {ON}{_ATTACHED}", _attach),
    (r"seam (?P<at>\d+)", _as("seam: {at}")),
    (rf"trim {ON} to {MM}", _as("trim: {places}, leave: {long}")),
    (rf"trim {ON} to {MM},? (?P<middle>{LONG}) in the middle",
     _as("trim: {places}, leave: {long}, middle: {middle}")),
    (r"measure (?P<what>length|width)", _as("measure: {what}")),
    (rf"measure (?P<what>length|width),? {MM} expected", _as("measure: {what}, expect: {long}")),
    (r"wait (?P<time>[\d a-z]+)", _as("wait: {time}")),
    (rf"{_KNOT} with (?P<cord>.+?) round {ON}{TIMES}", _clasp),
    (rf"{_KNOT} by the longest of {ON}{TIMES}", _longest),
    (rf"{_KNOT} (?P<who>\d+) round {ON}{TIMES}", _around),
    (rf"{_KNOT}(?: of (?P<of>\d+))? (?:on )?{ON}{_LARGE}{TIMES}", _tied),
)  # fmt: skip
