"""A cord whose colour or fibre the file leaves out: nothing that is printed makes them up."""

from pathlib import Path

import pytest

from coach.cli.main import main
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import colour_word, cord_look, strand_words
from coach.report.plan_report import report_of
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.plan_pages import plan_lines
from coach.tui.theme.palette import DARK

FIBRE = "moss-of-the-marsh"
SPOKEN = (
    "coach: 1\ntitle: Wick\ncords:\n"
    f"  wick: {{colour: teal, fibre: {FIBRE}, diameter: 2 mm, pieces: 1}}\n"
    f"  flame:\n    colour: teal\n    fibre: {FIBRE}\n    diameter: 3 mm\n"
    "start: {nest: [wick]}\nwork:\n"
    "  - knot: gathering knot\n    wrap: flame\n    around: all\n    length: 1 cm\n"
    "  - knot: overhand knot\n    strands: all\n"
)
UNSPOKEN = SPOKEN.replace(f"fibre: {FIBRE}, ", "").replace(f"    fibre: {FIBRE}\n", "")
COLOURLESS = UNSPOKEN.replace("colour: teal, ", "").replace("    colour: teal\n", "")
CALLS = (["plan"], ["plan", "--json"], ["words"], ["words", "--markdown"], ["card"], ["check"])


@pytest.fixture(autouse=True)
def _home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))


def printed(call: list[str], text: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> str:
    """Return what a call prints or writes of a project."""
    file, card = folder / "wick.yaml", folder / "wick.html"
    file.write_text(text, encoding="utf-8")
    more = ["-o", str(card), "--replace"] if call == ["card"] else []
    assert main([call[0], str(file), *call[1:], *more]) == 0
    out = capsys.readouterr().out
    return out + card.read_text(encoding="utf-8") if more else out


@pytest.mark.parametrize("call", CALLS, ids=" ".join)
def test_unknown_fibre_is_never_mentioned(
    call: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With no gap left where it would stand."""
    spoken = printed(call, SPOKEN, tmp_path, capsys)
    unspoken = printed(call, UNSPOKEN, tmp_path, capsys)
    assert unspoken.split() == [word for word in spoken.split() if word != FIBRE]
    assert unspoken.count("teal 2 mm") == spoken.count(f"teal {FIBRE} 2 mm")


@pytest.mark.parametrize("call", [["plan"], ["words"], ["words", "--markdown"]], ids=" ".join)
def test_no_colour_is_told_that_the_file_does_not_say(
    call: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The chosen colour is for the drawing; a maker may have that cord in any."""
    found = printed(call, COLOURLESS, tmp_path, capsys)
    assert "(2 mm)" in found.replace("\\", "")
    for word in ("orange", "light blue", "teal", "()", "( "):
        assert word not in found


def test_bench_shows_neither() -> None:
    """On the plan's page a thickness begins its line; a strand goes by its cord's name alone."""
    plan = plan_of(COLOURLESS)
    lines = [line.plain for line in plan_lines(report_of(plan), Inks(DARK), 60)]
    assert [line for line in lines if line.startswith("2 mm, ")]
    assert [line for line in lines if line.startswith("3 mm, ")]
    assert strand_words(plan, 0, plan.start) == "strand 1 (wick)"


def test_written_colours_are_called_as_written() -> None:
    """Also where it is a name of the web with a space or a capital."""
    plan = plan_of(SPOKEN.replace("colour: teal,", "colour: Light Sea Green,"))
    assert colour_word(plan.project.cords["wick"]) == "Light Sea Green"
    assert cord_look(plan.project.cords["wick"]).startswith("Light Sea Green")


def plan_of(text: str) -> Plan:
    plan = read_plan(text).plan
    assert plan is not None
    return plan
