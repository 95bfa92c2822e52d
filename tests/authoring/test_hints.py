"""What `check` advises: fitting, in the file's own names, and no fault hides another."""

import json
import re
from functools import cache
from itertools import combinations
from typing import Any

import pytest
from generated_files import FILE, STEPS

from coach.project.read import read_project
from coach.yaml_reader.declarations import SYNONYMS
from coach.yaml_reader.diagnostics import Problem

HEAD: dict[str, Any] = {
    "coach": 1,
    "title": "Ebb",
    "cords": {
        "foam": {"colour": "white", "diameter": "2 mm", "pieces": 2},
        "tide": {"colour": "navy", "diameter": "2 mm"},
    },
    "start": {"hang": ["2 foam", "2 tide"]},
    "parts": {"swell": [{"do": "Look."}]},
    "apart": {"handle": {"start": {"hang": ["tide"]}, "work": [{"do": "Look."}]}},
    "knots": {"sea button": {"strands": 4, "uses": "8 cm", "size": "14 mm"}},
}
NAMES = {"clay": "tide", "reed.1a": "foam.1a", "reed.1": "foam.1", "motif": "swell"}


def problems_of(text: str) -> tuple[Problem, ...]:
    return read_project(text).problems


def named(value: Any) -> Any:
    """Return a value with the cords and parts of this file."""
    if isinstance(value, list):
        return [named(item) for item in value]
    return NAMES.get(value, value) if isinstance(value, str) else value


def kinds() -> list[dict[str, Any]]:
    return [{key: named(value) for key, value in step.items()} for step in STEPS]


def told(step: dict[str, Any]) -> list[Problem]:
    return problems_of(json.dumps({**HEAD, "work": [step]}))


def name_of(step: dict[str, Any]) -> str:
    return " ".join(f"{key} {value}" for key, value in list(step.items())[:1])


@pytest.mark.parametrize("step", kinds(), ids=name_of)
def test_a_key_that_is_missing_is_told_at_the_kind_and_with_what_to_write(
    step: dict[str, Any],
) -> None:
    """What the hint gives as an example can be written: then nothing is missing any more."""
    kind, *rest = step
    for key in rest:
        without = {"note": "Look.", **{k: v for k, v in step.items() if k != key}}
        problems = told(without)
        if not problems:
            continue  # it may be left out
        (problem,) = problems
        assert problem.code == "MISSING-KEY"
        first = re.search(r"‘([a-z ]+): (.*?)’", problem.hint)
        assert first, problem.hint
        assert f"‘{first[1]}’" in problem.message
        text = json.dumps({**HEAD, "work": [without]})
        assert text[problem.span.column - 1 :].startswith(f'"{kind}"')
        filled = text.replace('"note": "Look."', f'"{first[1]}": {first[2]}')
        assert [p.code for p in problems_of(filled)] in ([], ["GROUPS"]), problem.hint


@pytest.mark.parametrize("key", ["coach", "title", "cords", "start", "work"])
def test_the_same_holds_for_the_whole_file(key: str) -> None:
    whole = {**HEAD, "work": [{"do": "Look."}]}
    del whole["apart"]  # with it no start is needed
    del whole[key]
    text = json.dumps(whole, indent=0)
    (problem,) = [p for p in problems_of(text) if p.code == "MISSING-KEY"]
    first = re.search(r"‘([a-z]+): (.*)’", problem.hint)
    assert first
    assert "MISSING-KEY" not in {
        p.code for p in problems_of(f"{{{first[1]}: {first[2]}, {text[1:]}")
    }


def test_every_key_that_can_be_missing_has_an_example() -> None:
    """None of them is left as three dots, wherever a key is asked for."""
    for step in kinds():
        for key in list(step)[1:]:
            for problem in told({k: v for k, v in step.items() if k != key}):
                assert "…" not in problem.hint


# a text is no value of any key but of those that hold texts, which no mapping is
SPOILT: dict[str, Any] = {key: {"x": 1} for key in ("note", "note once", "name", "do")}


def spoilt(step: dict[str, Any], *keys: str) -> dict[str, Any]:
    return {k: SPOILT.get(k, "no such thing!") if k in keys else v for k, v in step.items()}


@pytest.mark.parametrize("step", kinds(), ids=name_of)
def test_one_fault_of_a_step_does_not_hide_another(step: dict[str, Any]) -> None:
    """Any two of its values spoiled, the kind's own among them: both are told."""
    whole = {**step, "note": "Look.", "takes": "1 min", "name": "look"}
    for one, other in combinations(whole, 2):
        wrong = spoilt(whole, one, other)
        text = json.dumps({**HEAD, "work": [wrong]})
        places = {p.span.column for p in problems_of(text)}
        for key in (one, other):
            value = text.index(f'"{key}": ', text.rindex('"work"')) + len(f'"{key}": ') + 1
            assert value in places, (key, wrong, problems_of(text))


def test_a_misspelt_knot_does_not_hide_a_count_in_words() -> None:
    found = told({"knot": "squair knot", "strands": "1-4", "times": "twice"})
    assert [(p.message, p.hint) for p in found] == [
        ("Unknown knot ‘squair knot’.", "Did you mean ‘square knot’?"),
        ("‘twice’ is not a whole number.", "Write a number from 1 up."),
    ]


def test_a_misspelt_kind_hides_as_little() -> None:
    found = told({"roww": "clove hitch", "holder": 1, "across": "2-x", "times": "twice"})
    assert [p.code for p in found] == ["KIND", "POSITION", "NUMBER"]


@pytest.mark.parametrize(
    ("step", "wrong", "right"),
    [
        ({"knot": "gathering knot", "wrap": "foam", "length": "3 cm"}, {"strands": "1-4"},
         "around: 1-4"),
        ({"knot": "gathering knot", "wrap": "foam", "length": "3 cm"}, {"groups": "1-8 by 4"},
         "around: 1-8 by 4"),
        ({"knot": "gathering knot", "around": "all", "length": "3 cm"}, {"with": "tide"},
         "wrap: tide"),
        ({"knot": "gathering knot", "around": "all", "wrap": "foam"}, {"turns": 4}, "length: 3 cm"),
        ({"knot": "square knot"}, {"around": "1-4"}, "strands: 1-4"),
        ({"knot": "overhand knot"}, {"around": "[1, 2]"}, "strands: [1, 2]"),
        ({"knot": "half hitch chain"}, {"knotter": 1}, "strands: 1-4"),
        ({"knot": "josephine knot"}, {"across": "1-4"}, "strands: 1-4"),
        ({"knot": "berry knot", "of": 3}, {"around": "1-4"}, "strands: 1-4"),
        ({"knot": "half knot", "strands": "1-4"}, {"wrap": "foam"}, "with: foam"),
        ({"knot": "lark's head", "knotter": 1}, {"holder": 2}, "around: 2"),
        ({"knot": "half hitch", "knotter": 1}, {"across": "2-4"}, "around: 2-4"),
        ({"knot": "clove hitch"}, {"strands": "1-4"}, "knotter"),
        ({"knot": "barrel knot", "knotter": 1, "turns": 3}, {"holder": "2"}, "around: 2"),
        ({"knot": "barrel knot", "strands": 1}, {"length": "1 cm"}, "turns: 3"),
        ({"row": "clove hitch", "holder": 1}, {"strands": "2-4"}, "across: 2-4"),
        ({"row": "clove hitch", "holder": 1}, {"around": "2-4"}, "across: 2-4"),
        ({"weave": 1, "across": 2}, {"knot": "clove hitch"}, "knots: clove hitch"),
        ({"net": "1-8 by 4", "of": "square knot"}, {"times": 3}, "rows: 3"),
        ({"net": "1-8 by 4", "rows": 3}, {"knot": "square knot"}, "of: square knot"),
        ({"bead": 1}, {"length": "8 mm"}, "size: 8 mm"),
        ({"trim": "all"}, {"length": "2 cm"}, "leave: 2 cm"),
    ],
)  # fmt: skip
def test_a_role_under_the_name_that_another_knot_has_for_it_is_met_with_its_own(
    step: dict[str, Any], wrong: dict[str, Any], right: str
) -> None:
    """One problem, at the wrong key, that gives what was written under the right one."""
    (key,) = wrong
    found = told({**step, **json.loads(json.dumps(wrong).replace('"[1, 2]"', "[1, 2]"))})
    (problem,) = found
    text = json.dumps({**HEAD, "work": [{**step, **wrong}]})
    assert text[problem.span.column - 1 :].startswith(f'"{key}"')
    assert f"‘{right}’" in problem.hint


def test_a_key_that_says_what_is_said_already_is_to_be_left_out() -> None:
    step = {
        "knot": "gathering knot",
        "wrap": "foam",
        "around": "all",
        "strands": 1,
        "length": "1 cm",
    }
    (problem,) = told(step)
    assert problem.hint == "Leave it out; ‘around’ says it already."


WRONG: list[Any] = [
    7, "no such thing!", [], {}, {"x": 1}, ["no.such"], [""], [{"part": 1}], None,
]  # fmt: skip


@cache
def hints_below() -> list[str]:
    """Return what is advised with all spoiled in the start, in every step and in measures."""
    hints: list[str] = []
    for wrong in WRONG:
        for inner in ("nest", "hang", "strands", "by", "add", "take up", "uses", "wrap", "cord"):
            start = {**HEAD, "start": {inner: wrong}, "work": [{"do": "x"}]}
            hints += [p.hint for p in problems_of(json.dumps(start))]
            hints += [p.hint for p in told({inner: wrong, "at": 1})]
            swatch = {"knot": "clove hitch", "times": 3, inner: wrong}
            part = {"part": "swell", inner: wrong}
            measured = {**HEAD, "work": [{"do": "x"}], "measured": [swatch, part]}
            hints += [p.hint for p in problems_of(json.dumps(measured))]
    for step in kinds():
        for name in step:
            hints += [p.hint for p in told(spoilt(step, name))]
            hints += [p.hint for p in told({k: v for k, v in step.items() if k != name})]
    return hints


@pytest.mark.parametrize("key", sorted({*FILE, "colourways"}))
def test_hints_name_no_cord_that_the_file_has_not(key: str) -> None:
    """Spoil everything that can be spoiled, at the top, in the start and in every step."""
    hints = [
        problem.hint
        for wrong in WRONG
        for problem in problems_of(json.dumps({**HEAD, "work": [{"do": "x"}], key: wrong}))
    ] + hints_below()
    stray = [hint for hint in hints if re.search(r"\b(reed|clay|motif)\b", hint)]
    if key == "cords":  # there an example has to be made up
        stray = [hint for hint in stray if "diameter" not in hint and "nest" not in hint]
    assert not stray, stray
    assert any("foam" in hint for hint in hints)


def test_synonyms_of_keys_have_no_advice_of_their_own() -> None:
    """A holding cord is the holder, wherever advice speaks of one."""
    for other, first in SYNONYMS.items():
        if first == "holder":
            (problem,) = told({"knot": "lark's head", "knotter": 1, other: 2})
            assert problem.hint == "Write ‘around: 2’ instead."
