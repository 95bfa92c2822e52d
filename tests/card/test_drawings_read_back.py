"""What the drawings of a piece show, read back from their SVG, whichever code drew them."""

import json
import re
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest
from svg_reader import crossings, read, rules, strokes

from coach.cli.main import main
from coach.knots.names import JOSEPHINE
from coach.knots.stages import STAGES

GREEN, BROWN, BLUE = "#008000", "#a0522d", "#0000ff"
Printed = Callable[..., str]
DRAWINGS = (("card", "--svg"), ("picture",))
HEAD = f"""
coach: 1
title: Tide
cords:
  reed: {{colour: '{GREEN}', diameter: 2 mm, fold: none}}
  clay: {{colour: '{BROWN}', diameter: 2 mm, fold: none}}
  tide: {{colour: '{BLUE}', diameter: 2 mm, fold: none}}
"""


@pytest.fixture
def out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Printed:
    """Return what a command prints of a project's text."""

    def printed(text: str, *call: str) -> str:
        file = tmp_path / "tide.yaml"
        file.write_text(HEAD + text, encoding="utf-8")
        assert main([call[0], str(file), *call[1:]]) == 0
        return capsys.readouterr().out

    return printed


def step(card: str, said: str = "Step 1: ") -> str:
    """Return the drawing of one step on a card, with the page's colours."""
    found = re.search(rf'<svg[^>]*aria-label="{said}.*?</svg>', card, re.DOTALL)
    style = re.search(r"<style>(.*?)</style>", card, re.DOTALL)
    assert found and style  # noqa: PT018 - both are there or the page is none
    return re.sub(r"(<svg[^>]*>)", rf"\1<style>{style[1]}</style>", found[0], count=1)


@pytest.mark.parametrize("call", DRAWINGS, ids=" ".join)
def test_a_trim_to_a_point_hangs_lowest_in_the_middle(call: tuple[str, ...], out: Printed) -> None:
    """The file says 1 cm at the sides and 4 cm in the middle, where eight strands end."""
    work = "work: [{knot: square knot, groups: 1-8 by 4}, {trim: all, leave: 1 cm, middle: 4 cm}]"
    root = read(out(f"start: {{hang: [8 reed]}}\n{work}\n", *call))
    ends: dict[float, float] = {}
    for stroke in strokes(root):
        x, y = max(stroke.points, key=lambda point: point[1])
        if stroke.colour == GREEN:
            ends[round(x)] = max(y, ends.get(round(x), y))
    lowest = sorted(ends.values(), reverse=True)[:8]
    profile = [ends[x] for x in sorted(ends) if ends[x] in lowest]
    assert len(profile) == 8
    assert profile == pytest.approx(profile[::-1], rel=0.02), "the sides are not alike"
    half = profile[:4]
    assert half == sorted(set(half)), "it does not fall towards the middle"
    high = max(y for s in strokes(root) if s.colour == GREEN for _, y in s.points)
    work_mm = json.loads(out(f"start: {{hang: [8 reed]}}\n{work}\n", "plan", "--json"))["length_mm"]
    assert (half[-1] - half[0]) / high == pytest.approx(30 / (work_mm + 40), rel=0.1)


@pytest.mark.parametrize("call", [("card",), ("picture",)], ids=" ".join)
def test_strands_that_go_to_the_right_lie_over_those_that_go_to_the_left(
    call: tuple[str, ...], out: Printed
) -> None:
    """A cross is left over right, as the bobbin of a lacemaker; common practice, no source."""
    for strands, over in (("[reed, clay]", GREEN), ("[clay, reed]", BROWN)):
        text = out(f"start: {{strands: {strands}}}\nwork: [{{cross: [2, 1]}}]\n", *call)
        root = read(step(text) if call == ("card",) else text)
        assert set(crossings(root, GREEN, BROWN)) == {over}


@pytest.mark.parametrize("mirrored", [False, True])
def test_in_a_plait_the_outer_strand_goes_over_into_the_middle(
    out: Printed, *, mirrored: bool
) -> None:
    """The right one first, then the left one, and so on (the format's own contract)."""
    braid = "{braid: 1-3, crossings: 6}"
    text = (
        "start: {strands: [reed, clay, tide]}\n"
        f"work: [{{use: plait{', mirror: all' if mirrored else ''}}}]\n"
        f"parts: {{plait: [{braid}]}}\n"
    )
    card = out(text, "card")
    root = read(step(card, r"Step \d+"))
    places = ["reed", "clay", "tide"]
    colours = {"reed": GREEN, "clay": BROWN, "tide": BLUE}
    order, expected = list(places), []
    for crossing in range(6):
        right = (crossing % 2 == 0) != mirrored
        outer, inner = (order[2], order[1]) if right else (order[0], order[1])
        expected.append((frozenset((outer, inner)), colours[outer]))
        order = [order[0], order[2], order[1]] if right else [order[1], order[0], order[2]]
    for pair in {pair for pair, _ in expected}:
        one, other = (colours[name] for name in sorted(pair))
        seen = crossings(root, one, other)
        told = [over for crossed, over in expected if crossed == pair]
        merged = [s for n, s in enumerate(seen) if n == 0 or s != seen[n - 1]]
        wanted = [s for n, s in enumerate(told) if n == 0 or s != told[n - 1]]
        assert merged == wanted, pair


@pytest.mark.parametrize("call", DRAWINGS, ids=" ".join)
def test_the_ruler_begins_with_the_work_and_has_a_tick_every_centimetre(
    call: tuple[str, ...],
    out: Printed,
) -> None:
    text = (
        "start: {hang: [4 reed]}\n"
        "work: [{knot: square knot, strands: 1-4, times: 40}, {trim: all, leave: 5 mm}]\n"
    )
    root = read(out(text, *call))
    length_mm = json.loads(out(text, "plan", "--json"))["length_mm"] + 5
    marks = {t.text: t for t in root.iter("text") if re.fullmatch(r"\d+( cm)?", t.text or "")}
    ticks = sorted(a[1] for a, b in rules(root) if a[1] == b[1])
    (upright,) = [(a, b) for a, b in rules(root) if a[0] == b[0] and a[1] != b[1]]
    cords = [y for s in strokes(root) if s.colour == GREEN for _, y in s.points if y >= 0]
    centimetre = max(cords) / length_mm * 10
    assert ticks[0] == upright[0][1] == 0, "it begins at the top of the work"
    assert ticks[-1] == upright[1][1]
    gaps = [after - before for before, after in pairwise(ticks)]
    assert gaps == pytest.approx([centimetre] * len(gaps), rel=0.03)
    assert abs(ticks[-1] - max(cords)) < centimetre, "it is as long as the work, in whole ticks"
    assert "0 cm" in marks
    tops = {int(said.split()[0]): float(t.get("y") or 0) for said, t in marks.items() if said}
    below = tops[0]
    assert len(tops) > 2
    for said, y in tops.items():
        assert y - below == pytest.approx(said * centimetre, rel=0.03)
        assert min(abs(y - below - tick) for tick in ticks) < 0.02 * centimetre


def test_a_josephine_knot_is_woven_as_the_knots_own_diagram_has_it(out: Printed) -> None:
    """The left cord over, then under twice, over twice and under: alternating along each cord."""
    work = "{knot: josephine knot, strands: 1-2}"
    card = out(f"start: {{strands: [reed, clay]}}\nwork: [{work}]\n", "card")
    diagram = STAGES[JOSEPHINE][-1].diagram
    met = {m.at: m.over for m in diagram.meetings()[0] if m.other == 1}
    told = [GREEN if met[at] else BROWN for at in sorted(met, key=lambda at: (at[1], at[0]))]
    assert told == [GREEN, BROWN, BROWN, GREEN, GREEN, BROWN]
    assert crossings(read(step(card)), GREEN, BROWN) == told
