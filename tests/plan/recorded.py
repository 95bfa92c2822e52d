"""Random work of every kind, said sentence by sentence, and what its written file must tie."""

from collections.abc import Callable, Mapping
from typing import Final

from hypothesis import strategies as st

from coach.plan.from_text import read_plan
from coach.recording.project_text import StartingCords
from coach.recording.record import Recording, new_recording, tied
from coach.recording.sentence_check import after_sentence
from coach.recording.sentence_words import NotUnderstood

CORDS: Final = {
    "reed": "{colour: green, fibre: cotton, diameter: 2 mm}",
    "clay": "{colour: sienna, fibre: cotton, diameter: 2 mm}",
}
HUNG: Final = StartingCords(CORDS, "{hang: [2 reed, clay]}")
_FILE: Final = """\
coach: 1
title: "Begun from a file"
cords:
  reed: {diameter: 2 mm, lead: 20 cm, fold: none, pieces: 8}
  clay: {diameter: 2 mm}
start: {hang: [6 reed], on: ring}
work:
  - {knot: square knot, strands: 1-4, times: 30}
"""
_OWN: Final = "own knot sea button: 2 strands, uses 12 cm, 14 mm long"
_APART: Final = "apart handle, 2 of them, from 2 reed: square knots 1-4, 5 times; plait 1-3, 6 cm"
STARTS: Final[tuple[Recording, ...]] = (
    after_sentence(after_sentence(new_recording(HUNG), _OWN), _APART),
    after_sentence(
        new_recording(StartingCords(CORDS, "{nest: [reed, 3 clay], on: ring}")), "lay aside 1"
    ),
    new_recording(StartingCords(CORDS, "{hang: [4 reed], on: dowel, round: yes}")),
    new_recording(StartingCords(CORDS, "{hang: [3 reed, 2 clay], from: middle}")),
    new_recording(None, _FILE.replace(", pieces: 8", "")),
)
_FLAT: Final = ("square knots", "half knots", "reverse half knots", "reverse square knots")
_WAYS: Final = ("", ", twice", ", three times")


def _span(draw: st.DrawFn, n: int, least: int = 1) -> tuple[int, int]:
    first = draw(st.integers(1, max(1, n - least + 1)))
    return first, draw(st.integers(min(n, first + least - 1), n))


def _row(draw: st.DrawFn, n: int) -> str:
    mover, last = draw(st.integers(1, n)), draw(st.integers(1, n))
    of = draw(st.sampled_from(("", " of half hitches", " of lark's heads")))
    way = draw(st.sampled_from(("", "reverse ")))
    lie = draw(st.sampled_from(("", ", level", ", slanting", ", slanting at 45°", ", first under")))
    return f"{way}row{of} {mover} to {last}{lie}{draw(st.sampled_from(_WAYS))}"


def _weave(draw: st.DrawFn, n: int) -> str:
    last = draw(st.integers(2, n))
    first = draw(st.integers(0, last - 1))
    knots = [f"{first} clove hitches"] * bool(first)
    knots += [f"{last - 1 - first} reverse clove hitches"] * (last - 1 > first)
    return f"weave 1 over 2-{last}: {', '.join(knots)}"


def _hitched(draw: st.DrawFn, n: int) -> str:
    first, last = _span(draw, n)
    knot = draw(st.sampled_from(("hitch", "lark's heads", "half hitches")))
    onto = draw(st.sampled_from(("the ring", "the dowel, 1 cm thick", "the bar")))
    return f"{knot} {first}-{last} onto {onto}"


def _flat(draw: st.DrawFn, n: int) -> str:
    size = draw(st.integers(2, 4))
    first = draw(st.integers(1, max(1, n - 2 * size + 1)))
    places = f"{first}-{first + size - 1}"
    if draw(st.booleans()):
        places += f", {first + size}-{first + 2 * size - 1}"
    return f"{draw(st.sampled_from(_FLAT))} {places}{draw(st.sampled_from(_WAYS))}"


def _pair(draw: st.DrawFn, n: int, what: str) -> str:
    first = draw(st.integers(1, n - 1))
    return what.format(a=first, b=first + 1, c=min(n, first + 2), d=min(n, first + 3))


def _from(*forms: str) -> Callable[[st.DrawFn, int], str]:
    return lambda draw, n: _pair(draw, n, draw(st.sampled_from(forms)))


def _cross(draw: st.DrawFn, n: int) -> str:
    first, last = _span(draw, n, 2)
    return f"cross {' '.join(map(str, draw(st.permutations(range(first, last + 1)))))}"


KINDS: Final[Mapping[str, Callable[[st.DrawFn, int], str]]] = {
    "row": _row, "weave": _weave, "hitched": _hitched, "flat": _flat, "cross": _cross,
    "clasp": _from("square knots with clay round {a}-{c}, 3 times"),
    "chain": _from("half hitch chain {a}-{b}, 4 times"),
    "josephine": _from("josephine knot {a}-{d}", "josephine knot {a}-{b}, 3 cm large"),
    "bundle": _from("overhand knot {a}-{c}", "double overhand knot {a}", "overhand knot all"),
    "berry": _from("berry knot of 3 {a}-{d}"),
    "around": _from("lark's head {a} round {b}-{c}, twice", "half hitches {b} round {a}",
                    "reverse clove hitch {a} round {b}"),
    "longest": _from("half hitch by the longest of {a}-{c}, twice"),
    "barrel": _from("barrel knot {a} round {b}, 4 turns", "barrel knot {a}, 3 turns",
                    "barrel knot {a}, 4 or more turns"),
    "gathering": _from("gathering knot of reed round {a}-{c}, 2 cm",
                       "gathering knot of clay round all, about 3 cm"),
    "net": _from("net 1-4 by 2, 3 rows, gap 1 cm", "net 1-4 by 4, half knots, 2 rows",
                 "net 1-4 by 2, 3 rows, narrowing", "net 1-4 by 2, 2 rows, widening"),
    "plait": _from("plait {a}-{c}, 6 cm", "plait {a}-{c}, 7 crossings",
                   "plait 1-2, 3-4, 5-6, 6 cm"),
    "space": _from("gap 2 cm", "gap 1 cm on {a}-{c}", "gap 1 cm on {a}, {b}"),
    "loop": _from("loop 15 mm on {a}", "loop 1 cm on 1, {b}"),
    "bead": _from("bead 8 mm on {a}-{b}"),
    "turn": _from("turn {a} round {b}", "turn {b} round a pin"),
    "add": _from("add clay at {a}, not folded", "add 2 reed at {b}", "add clay at {b} onto {a}",
                 "add reed at {a}, laid in"),
    "aside": _from("lay aside {a}", "lay aside {a}, leave 12 cm"),
    "up": _from("take up reed.1a at {a}", "take up reed.1b at 1", "take up clay.1a at {b}"),
    "over": _from("turn over", "turn end for end"),
    "seam": _from("seam {a}"),
    "down": _from("bring down reed.1 at {a}", "bring down reed.2, reed.3 at {b}"),
    "back": _from("fold back {a}-{b}, loop 2 cm"),
    "each": _from("in each of 1-6 by 3: row 1 to 3; row 3 to 1",
                  "in each of 1-4, 5-6: half knots 1-2, 3 times",
                  "in each of 1-4 by 2, mirrored every second: half knots 1-2",
                  "in each of 1-4 by 2, in any order: square knots 1-2"),
    "own": _from(_OWN, "sea button {a}-{b}", "sea buttons {a}-{b}, twice"),
    "apart": _from(_APART, "make handle", "attach handle at {a}, knotted",
                   "attach handle at {b}, sewn, behind"),
    "plain": _from("measure length", "measure width, 7 cm expected", "wait 10 min",
                   "do Press it: flat.", "trim {a}-{b} to 2 cm",
                   "trim all to 6 cm, 2 cm in the middle"),
    "beside": _from("again", "again mirrored", "the last 2 steps, three times",
                    "the last 3 steps mirrored", "unpick", "note Mind the edge", "again, twice"),
}  # fmt: skip


@st.composite
def works(draw: st.DrawFn, most: int = 9) -> tuple[Recording, tuple[str, ...]]:
    """Return a record of random work of all kinds, and the kinds in it; what cannot be is left."""
    record = draw(st.sampled_from(STARTS))
    kinds: list[str] = []
    for _ in range(draw(st.integers(2, most))):
        kind = draw(st.sampled_from(("beside", "row", "flat", *KINDS)))
        hanging = record.plan.steps[-1].before if record.plan else ()
        try:
            record = after_sentence(record, KINDS[kind](draw, max(4, len(hanging))))
        except NotUnderstood:
            continue
        kinds.append(kind)
    return record, tuple(kinds)


def assert_written_as_knotted(record: Recording) -> None:
    """Hold the written file, and what is kept of it, against what was knotted."""
    knotted = read_plan(record.text(fold=False))
    assert knotted.plan is not None, (record.text(fold=False), knotted.problems)
    written = read_plan(record.text())
    assert written.plan is not None, (record.text(), written.problems)
    assert tied(written.plan) == tied(knotted.plan), record.text()
