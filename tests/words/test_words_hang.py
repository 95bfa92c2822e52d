"""Hanging in words: what comes before the fold first, who is folded, who hangs where, told once."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from read_back import folded, from_left, lines_of

from coach.card.card_page import render_card
from coach.cli.project_finder import shipped_projects
from coach.cli.reports.plan_page import render_plan
from coach.piece.reports.forecast import time_of
from coach.plan.cord.cord_left import shares_mm
from coach.plan.cord.cut_list import cut_list
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.plan.wording.cord_order_words import MOST, ranges_in_words
from coach.plan.wording.cord_order_words import from_left as told_from_left
from coach.report.plan_report import report_of
from coach.words.hanging import hanging_instructions
from coach.words.sheet import as_words
from coach.yaml_reader.file_loader import load

SHELF = {path.stem: path for path in shipped_projects()}
HEAD = """
coach: 1
title: Tide
cords:
  reed: {{colour: green, fibre: cotton, diameter: 2 mm{reed}}}
  clay: {{colour: sienna, fibre: cotton, diameter: 2 mm{clay}}}
  foam: {{colour: linen, fibre: cotton, diameter: 2 mm}}
start: {start}
work: [{work}]
"""
ROW = "{row: clove hitch, holder: 1, across: 2}"


def plan_of(start: str, *, reed: str = "", clay: str = "", work: str = ROW) -> Plan:
    reading = read_plan(HEAD.format(start=start, reed=reed, clay=clay, work=work))
    assert reading.plan, [(p.code, p.message) for p in reading.problems]
    return reading.plan


def hung(plan: Plan) -> list[str]:
    return [plan.strands[strand].cord for strand in plan.start]


def words(plan: Plan, *, marked: bool = True) -> list[str]:
    return list(as_words(plan, report_of(plan), marked=marked))


def page(plan: Plan) -> list[str]:
    return render_plan(report_of(plan, time=time_of(plan, "")))


@pytest.mark.parametrize("name", SHELF)
def test_the_words_on_hanging_read_back_to_the_strands_of_the_plan(name: str) -> None:
    whole = read_plan(load(SHELF[name]).text or "").plan
    assert whole
    for plan in [own.plan for own in whole.by_section if own.plan.start] or [whole]:
        told = hanging_instructions(plan)
        assert from_left(told) == hung(plan)
        wanted = {True: set(), False: set()}
        for strand in plan.start:
            wanted[plan.strands[strand].single].add(plan.strands[strand].cord)
        assert folded(told) == (wanted[False], wanted[True])


@given(st.lists(st.sampled_from(["reed", "clay", "foam", "2 reed", "3 clay"]), min_size=1,
                max_size=6), st.integers(1, 20), st.booleans())  # fmt: skip
def test_any_order_of_cords_reads_back_however_it_is_shortened(
    pieces: list[str], times: int, nested: bool
) -> None:
    plan = plan_of(f"{{{'nest' if nested else 'hang'}: [{', '.join(pieces * times)}]}}")
    assert from_left(told_from_left(plan)) == hung(plan)


def test_a_pattern_is_told_once_and_not_strand_by_strand() -> None:
    plan = plan_of(f"{{hang: [{', '.join(['reed', 'clay'] * 30)}]}}")
    assert told_from_left(plan) == "From the left: strands 1-120 in turn 2 reed and 2 clay."
    plan = plan_of(f"{{hang: [{', '.join(['reed', '2 clay', 'foam'] * 9 + ['reed'])}]}}")
    assert "strands 1-72 in turn 2 reed, 4 clay and 2 foam; " in told_from_left(plan)


@pytest.mark.parametrize(
    "pieces",
    [["reed"] * 60, ["reed", "clay"] * 30, [*["reed", "clay", "foam"] * 9, *["clay", "reed"] * 9],
     ["reed" if n * n % 11 % 3 else "clay" if n * n % 7 % 2 else "foam" for n in range(60)]],
)  # fmt: skip
def test_the_plan_never_lists_more_than_a_dozen_strands_one_by_one(pieces: list[str]) -> None:
    for start in ("hang", "nest"):
        told = " ".join(page(plan_of(f"{{{start}: [{', '.join(pieces)}]}}")))
        assert len(re.findall(r"(?:reed|clay|foam)\.\d+", told)) <= MOST
        laid = told[told.index("From the left") : told.index("Knots:")]
        assert laid.count("strand") <= MOST + 1, "and a word on the rest"


def test_what_is_worked_before_the_fold_stands_before_the_words_that_fold() -> None:
    before = "before fold: [{braid: 1-3, length: 6 cm}, {do: Bend it.}]"
    plan = plan_of(f"{{nest: [reed, 2 clay], {before}}}")
    for marked in (False, True):
        told = "\n".join(words(plan, marked=marked))
        places = [
            told.index(part) for part in ("Plait strands 1", "Bend it", "Now fold", "With strand 1")
        ]
        assert places == sorted(places)
        assert len(re.findall(r"(?:Now fold|and fold|Fold) ", told)) == 1, "the fold is told once"
    card = render_card(plan, report_of(plan))
    card = card[card.index("<body>") :]
    places = [
        card.index(part) for part in ("Plait strands 1", "Bend it", "Now fold", "With strand 1")
    ]
    assert places == sorted(places)
    numbers = [line.number for name in ("Before folding", "Work")
               for line in lines_of(words(plan), name)]  # fmt: skip
    assert [n for n in numbers if n] == [1, 2, 3], "numbered on"
    (laid,) = [line for line in words(plan) if "not folded yet" in line]
    assert from_left(laid, "piece") == ["reed", "clay", "clay"]


def test_work_that_begins_folded_says_nothing_of_a_before() -> None:
    told = words(plan_of("{nest: [reed, clay]}"))
    assert not any("Before folding" in line or "Now fold" in line for line in told)


def test_which_cords_are_folded_and_which_are_not_is_said() -> None:
    plan = plan_of("{hang: [reed, 2 clay, reed, foam]}", clay=", fold: none, lead: 8 cm")
    told = hanging_instructions(plan)
    assert folded(told) == ({"reed", "foam"}, {"clay"})
    assert "Do not fold the 2 clay cords: each hangs as one strand" in told
    assert "8 cm left free above the first knot" in told
    assert "the 2 reed cords and the foam cord in the middle" in told


def test_a_fold_off_the_middle_says_how_far_each_strand_hangs() -> None:
    work = "{knot: lark's head, knotter: 1, around: 2, times: 60}"
    plan = plan_of("{hang: [reed, clay]}", reed=", fold: fit", work=work)
    long, short = (shares_mm(plan, cut_list(plan))[strand] for strand in plan.start[:2])
    match = re.search(
        r"leaving ([\d.]+) m for strand 1 and ([\d.]+) cm for strand 2", hanging_instructions(plan)
    )
    assert match
    assert float(match[1]) * 1000 == pytest.approx(long, abs=25)
    assert float(match[2]) * 10 == pytest.approx(short, abs=5)
    assert f"leaving {match[1]} m for strand 1" in " ".join(" ".join(page(plan)).split())


def test_places_are_told_as_ranges() -> None:
    assert ranges_in_words([1, 2, 3, 5, 9, 10]) == "1-3, 5 and 9-10"
    assert ranges_in_words([4]) == "4"
    assert ranges_in_words(list(range(1, 24, 2))) == "every 2nd from 1 to 23"


NAMED = [("linen", "linen"), ("warp", "linen"), ("linen warp", "linen"), ("linen", "Linen")]


@pytest.mark.parametrize("colour", ["linen", "Linen", '"#faf0e6"'])
@pytest.mark.parametrize(("name", "fibre"), NAMED)
def test_a_cord_called_like_its_fibre_or_colour_is_said_once(
    colour: str, name: str, fibre: str
) -> None:
    cord = f"{name}: {{colour: {colour}, fibre: {fibre}, diameter: 2 mm}}"
    text = HEAD.format(start=f"{{nest: [{name}]}}", reed="", clay="", work=ROW)
    plan = read_plan(re.sub("foam: .*", cord, text)).plan
    assert plan
    card = re.sub(r"<style>.*?</style>|<[^>]+>", " ", render_card(plan, report_of(plan)))
    for told in (words(plan), words(plan, marked=False), page(plan), [card]):
        for line in told:
            assert not re.search(r"linen[^;.]*\W+linen", line, re.IGNORECASE) or "In all" in line
