"""The catalogue of knots: every knot is there, complete, in the trade's words."""

import re

import pytest

from coach.knots import names
from coach.knots.catalogue import CATALOGUE, pass_count


def test_every_knot_has_its_entry_and_nothing_else_has_one() -> None:
    assert tuple(CATALOGUE) == names.KNOTS
    assert all(name == entry.name for name, entry in CATALOGUE.items())


@pytest.mark.parametrize("knot", names.KNOTS)
def test_knots_are_explained_in_a_few_short_steps(knot: str) -> None:
    entry = CATALOGUE[knot]
    assert 3 <= len(entry.steps) <= 6
    for line in (*entry.steps, entry.roles, entry.caution or "None."):
        assert re.fullmatch(r"[A-Z].*\.", line)
        assert len(line) <= 100


@pytest.mark.parametrize(
    ("knot", "count"),
    [
        (names.CLOVE, 2),
        (names.REVERSE_CLOVE, 2),
        (names.HALF_HITCH, 1),
        (names.LARKS_HEAD, 2),
        (names.REVERSE_LARKS_HEAD, 2),
        (names.SQUARE, 2),
        (names.REVERSE_SQUARE, 2),
        (names.HALF_KNOT, 1),
        (names.REVERSE_HALF_KNOT, 1),
        (names.CHAIN, 1),
        (names.JOSEPHINE, 1),
        (names.OVERHAND, 1),
        (names.DOUBLE_OVERHAND, 2),
        (names.GATHERING, 1),
    ],
)
def test_passes_of_a_tie(knot: str, count: int) -> None:
    """Clove hitch 2, square knot 2: T. de Dillmont, Encyclopedia of Needlework (c. 1886), figs 519
    and 516; read. The others: common practice, no source."""
    assert pass_count(knot) == count


def test_square_knot_has_the_passes_of_a_half_knot_and_its_reverse() -> None:
    assert pass_count(names.SQUARE) == pass_count(names.HALF_KNOT) + pass_count(
        names.REVERSE_HALF_KNOT
    )


def test_square_knot_is_told_as_a_half_knot_and_its_reverse() -> None:
    """The first pass is told in the same words; the second begins on the other side."""
    square, half = CATALOGUE[names.SQUARE], CATALOGUE[names.HALF_KNOT]
    assert square.steps[:3] == half.steps
    assert "from the right" in square.steps[3]


@pytest.mark.parametrize("knot", [names.SQUARE, names.HALF_KNOT])
def test_mirrored_knots_are_told_with_left_and_right_exchanged(knot: str) -> None:
    sides = {"left": "right", "right": "left"}
    told = tuple(
        re.sub("left|right", lambda side: sides[side[0]], step) for step in CATALOGUE[knot].steps
    )
    assert told == CATALOGUE[names.mirror_image(knot)].steps


def test_barrel_and_berry_knots_have_the_passes_asked_for() -> None:
    assert pass_count(names.BARREL, turns=4) == 4
    assert pass_count(names.BARREL) == 1
    assert pass_count(names.BERRY, squares=3) == 8


def test_reverse_clove_hitch_is_explained_as_vertical() -> None:
    gloss = CATALOGUE[names.REVERSE_CLOVE].said_as
    assert gloss == "vertical clove hitch"
    assert names.first_name(gloss) == names.REVERSE_CLOVE


def test_knots_without_a_figure_behind_them_say_so() -> None:
    rough = {name for name, entry in CATALOGUE.items() if entry.rough}
    assert rough == {names.BERRY}
