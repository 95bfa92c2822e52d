"""Example sentences of every form, and completion of a sentence begun."""

import re
from collections.abc import Mapping
from typing import Final

FORMS: Final = (
    "row 1 to 6", "row 6 to 1, slanting", "reverse row 6 to 1", "reverse row 1 to 6, first under",
    "row of half hitches 1 to 6", "weave 1 over 2-6: 3 clove hitches, 2 reverse clove hitches",
    "hitch 1-4 onto the ring", "lark's heads 1-4 onto the dowel",
    "square knots 1-4, 5-8, three times", "square knots with clay round 1-4, 5 times",
    "half knots 1-4, 12 times", "overhand knot all", "double overhand knot 1-2",
    "josephine knot 1-4", "josephine knot 1-4, 3 cm large", "berry knot of 3 1-4",
    "half hitch by the longest of 1-4, twice",
    "half hitch chain 1-2, 20 times", "lark's head 1 round 2-3, 6 times",
    "barrel knot 1, 4 turns",
    "barrel knot 3 round 1-2, 4 or more turns", "gathering knot of reed round all, 3 cm",
    "net 1-16 by 4, 3 rows, gap 1 cm", "net 1-16 by 4, 3 rows, narrowing", "plait 1-3, 10 cm",
    "plait 1-2, 3-4, 5-6, 10 cm", "plait 1-3, 12 crossings", "cross 3 4 1 2",
    "gap 3 cm", "gap 3 cm on 1-4", "loop 15 mm on 1", "bead 8 mm on 2-3", "turn 4 round 3",
    "turn 4 round a pin", "add 2 clay at 5", "add clay at 5 onto 4", "lay aside 3",
    "lay aside 3, leave 12 cm", "take up clay.1a at 1", "turn over", "turn end for end",
    "bring down clay.1 at 2", "fold back 1-4, loop 15 cm",
    "in each of 1-16 by 4: row 1 to 4; row 4 to 1",
    "in each of 1-16 by 4, mirrored every second: half knots 1-4, 8 times",
    "in each of 1-16 by 4, in any order: half knots 1-4, 8 times",
    "make handle", "attach handle at 1, 6, sewn", "seam 3", "trim all to 2 cm",
    "trim all to 6 cm, 2 cm in the middle", "measure length", "measure length, 7 cm expected",
    "wait 10 min", "do Press it flat.",
)  # fmt: skip
"""Sentences that say a step."""

BESIDE: Final = (
    "again", "again mirrored", "again, three times", "the last 2 steps, three times",
    "the last 2 steps mirrored", "unpick", "unpick 2 steps", "note WORDS",
    "measured 20 clove hitches of reed: 26 cm, 44 mm long", "cord tide, 2 mm, blue",
    "own knot sea button: 4 strands, uses 12 cm, 14 mm long",
    "apart handle, 2 of them, from 2 reed: square knots 1-4, 20 times",
    "call it Tide bracelet", "finished",
)  # fmt: skip
"""Sentences that say something else of the work."""

_WORD: Final = re.compile(r"\d+(?:[./]\d+)?|[^\W\d_][\w'’.]*|\S")
_MOST: Final = 60


def completions(begun: str, names: Mapping[str, str] | None = None) -> tuple[str, ...]:
    """Return whole sentences that begin as typed, with the figures that were typed.

    Args:
        begun: What is typed so far.
        names: Names of this piece to put in for those of the examples, such as its cords.
    """
    found = (_completed(begun, _named(form, names or {})) for form in (*FORMS, *BESIDE))
    return tuple(dict.fromkeys(sentence for sentence in found if sentence))[:_MOST]


def nearest_example(said: str) -> str:
    """Return the example that is most like a sentence that was not understood."""
    from difflib import SequenceMatcher  # noqa: PLC0415 - only for a misspelt sentence

    words = said.casefold()

    def alike(form: str) -> float:
        head = form[: max(len(words), 6)]
        return SequenceMatcher(None, words, head).ratio()

    return max((*FORMS, *BESIDE), key=alike)


def _named(form: str, names: Mapping[str, str]) -> str:
    for example, own in names.items():
        form = re.sub(rf"\b{re.escape(example)}\b", lambda _, own=own: own, form)  # type: ignore[misc]
    return form


def _completed(begun: str, form: str) -> str:
    """Return what is typed with the rest of a form that begins so; "" for another form.

    Any figure stands for any other; the last word may be cut short.
    """
    typed, wanted = list(_WORD.finditer(begun)), list(_WORD.finditer(form))
    if len(typed) > len(wanted):
        return ""
    open_end = bool(begun) and not begun[-1].isspace()
    for at, (word, other) in enumerate(zip(typed, wanted, strict=False)):
        last = open_end and at == len(typed) - 1
        if not _same(word[0], other[0], cut=last):
            return ""
    if not typed:
        return form
    last_typed, last_wanted = typed[-1][0], wanted[len(typed) - 1]
    kept = begun.rstrip() if open_end else begun
    rest = form[last_wanted.end() :]
    if open_end and not last_typed[0].isdigit():
        rest = last_wanted[0][len(last_typed) :] + rest
    elif not open_end:
        rest = rest.lstrip()
    return kept + rest


def _same(word: str, other: str, *, cut: bool) -> bool:
    if word[0].isdigit() or other[0].isdigit():
        return word[0].isdigit() and other[0].isdigit()
    word, other = word.casefold().replace("’", "'"), other.casefold()
    return other.startswith(word) if cut else word == other
