"""Cord in hand, cut and paid by weight, where the project says what it weighs."""

import json
from pathlib import Path

import pytest

from coach.cli.main import main
from coach.plan.from_text import read_plan
from coach.report.plan_report import report_of
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.plan_pages import plan_lines
from coach.tui.theme.palette import DARK

PROJECT = """
coach: 1
title: Reed run
cords:
  reed: {colour: green, fibre: cotton, weight: 4 g/m}
  clay: {colour: sienna, diameter: 2 mm}
start: {nest: [reed, clay]}
work: [{knot: square knot, strands: 1-4, times: 20}]
"""


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    path = tmp_path / "run.yaml"
    path.write_text(PROJECT, encoding="utf-8")
    return str(path)


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    """Run a call; give its status and what it printed on both outputs, on one line each."""
    status = main(arguments)
    printed = capsys.readouterr()
    return status, " ".join(printed.out.split()), " ".join(printed.err.split())


def plan_of(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict:
    assert main(["plan", *arguments, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_a_hank_that_was_weighed_is_as_long_as_its_weight_says(
    capsys: pytest.CaptureFixture[str], file: str
) -> None:
    """500 g of a cord of 4 g/m are 125 m, 1 lb of it 113.4 m."""
    for hank, length_mm in (("500 g", 125_000), ("0.5 kg", 125_000), ("1 lb", 113_398.0925)):
        (stock,) = plan_of(capsys, file, "--hank", f"reed={hank}")["stock"]
        assert [one["hank_mm"] for one in stock["hanks"]] == pytest.approx([length_mm])
    (stock,) = plan_of(capsys, file, "--hank", "reed=8 g, 500 g, 3 m")["stock"]
    assert [one["hank_mm"] for one in stock["hanks"]] == pytest.approx([125_000, 3000, 2000])
    assert "reed hank 1 (125 m)" in told(capsys, "plan", file, "--hank", "reed=500 g")[1]


@pytest.mark.parametrize("hank", ["clay=500 g", "500 g"])
def test_a_hank_of_a_cord_whose_weight_is_unknown_gets_what_to_add(
    capsys: pytest.CaptureFixture[str], file: str, hank: str
) -> None:
    status, out, err = told(capsys, "plan", file, "--hank", hank)
    assert (status, out) == (2, "")
    assert "What clay weighs is not known" in err
    assert "‘weight: 4 g/m’" in err


def test_another_thickness_is_another_cord_whose_weight_nobody_knows(
    capsys: pytest.CaptureFixture[str], file: str
) -> None:
    thick = ("--cord", "reed=3mm")
    assert "total_g" not in plan_of(capsys, file, *thick)["cords"][0]
    assert told(capsys, "plan", file, *thick, "--hank", "reed=500 g")[0] == 2
    assert "estimated" not in told(capsys, "plan", file, *thick)[1]


@pytest.mark.parametrize("hank", ["reed=500 q", "reed=0 g", "reed=5 h", "reed=-3 g", "reed=500"])
def test_a_hank_that_cannot_be_read_gets_a_sentence(
    capsys: pytest.CaptureFixture[str], file: str, hank: str
) -> None:
    status, out, err = told(capsys, "plan", file, "--hank", hank)
    assert (status, out) == (2, "")
    assert err.startswith("coach: --hank: ")
    assert err.endswith(".")


def test_the_plan_says_what_a_cord_weighs_and_that_its_thickness_is_estimated(
    capsys: pytest.CaptureFixture[str], file: str
) -> None:
    reed, clay = plan_of(capsys, file)["cords"]
    assert reed["total_g"] == pytest.approx(reed["total_mm"] * 0.004, abs=0.05)
    assert "total_g" not in clay
    main(["plan", file])
    page = capsys.readouterr().out
    assert max(map(len, page.splitlines())) <= 78
    assert f"about {reed['total_g']:.0f} g" in page
    assert "(green cotton about 2.4 mm by weight)" in " ".join(page.split())
    assert page.count("Its thickness is estimated from its weight, 4 g/m.") == 1
    for call in (("words", file), ("card", file, "-o", "-")):
        out = told(capsys, *call)[1]
        assert "about 2.4 mm by weight" in out
        assert "2 mm" in out


def test_the_bench_says_too_that_a_thickness_is_estimated() -> None:
    plan = read_plan(PROJECT).plan
    assert plan
    lines = [line.plain for line in plan_lines(report_of(plan), Inks(DARK), 40)]
    told = " ".join(lines)
    assert told.count("Its thickness is estimated from its weight, 4 g/m.") == 1
    assert any(line.startswith("cotton about 2.4 mm by weight, ") for line in lines)
