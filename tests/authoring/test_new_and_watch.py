"""Beginning a project file, and the coach reading along while it is written."""

from argparse import Namespace
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from command_line import coach
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from coach.cli.commands import new
from coach.cli.commands.check import run
from coach.cli.options.draft_fitting import fit_draft, fit_width
from coach.cli.options.draft_questions import Questions
from coach.cli.watch import watch
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.plan.wording.advice import with_advice
from coach.project.drafts.answers import Answers, DraftCord
from coach.project.drafts.designs import DESIGNS
from coach.project.drafts.motifs import MOTIFS
from coach.project.drafts.project_draft import draft
from coach.project.read import KINDS
from coach.project.readers.start import PLACES
from coach.quantities import length_mm

CORDS = [DraftCord("reed", "#5b7f3a", "2 mm"), DraftCord("clay", "sienna", '1/8"')]


def answers_for(kind: str, length: str, **more: Any) -> Answers:
    design = DESIGNS[kind]
    usual = Answers(design.title, kind, design.on, CORDS, design.strands, length, design.knots)
    return replace(usual, **more)


def is_sound(text: str) -> Plan:
    reading = with_advice(read_plan(text))
    assert reading.plan, (reading.problems, text)
    assert not [p for p in reading.problems if p.code not in ("LEFT-OVER", "SIZE")], text
    return reading.plan


@pytest.mark.parametrize("kind", DESIGNS)
@pytest.mark.parametrize("factor", [0.7, 1.0, 2.5])
def test_every_kind_reaches_every_sensible_length(kind: str, factor: float) -> None:
    """No other number of repeats comes nearer; a hanger's gap gives it to the millimetre."""
    wanted = factor * length_mm(DESIGNS[kind].length)
    answers = answers_for(kind, f"{wanted:g} mm")
    found = fit_draft(answers)
    plan = is_sound(found.text)
    assert not found.told
    off = abs(plan.length_mm - wanted)
    if kind == "hanger":
        assert off < 1
        return
    times = plan.repeats["motif"]
    others = [is_sound(draft(answers, n)).length_mm for n in (times - 1, times + 1) if n]
    assert all(off <= abs(other - wanted) for other in others)


@examples(30)
@given(
    st.text(min_size=1, max_size=20),
    st.sampled_from(sorted(DESIGNS)),
    st.sampled_from(PLACES),
    st.lists(st.sampled_from(sorted(MOTIFS)), min_size=1, max_size=3, unique=True),
    st.tuples(st.integers(1, 40), st.integers(1, 2)),
)
def test_whatever_is_answered_the_draft_is_sound(
    title: str, kind: str, on: str, knots: list[str], many: tuple[int, int]
) -> None:
    asked = iter([f"{title}\n"])
    ask = Questions(Namespace(), lambda _: next(asked))
    clean = ask._one("", "", "Reed strap", str)
    some = DESIGNS[kind].strands_near(many[0])
    answers = answers_for(
        kind, "30 cm", title=clean, on=on, knots=knots, strands=some, cords=CORDS[: many[1]]
    )
    plan = is_sound(draft(answers, 2))
    assert plan.project.title == clean
    assert len(plan.start) == some


@pytest.mark.parametrize(("kind", "wide"), [("mat", 200), ("belt", 40), ("wall hanging", 500)])
def test_a_width_is_come_near_to_by_the_number_of_strands(kind: str, wide: float) -> None:
    found = fit_width(answers_for(kind, DESIGNS[kind].length), wide)
    off = {
        n: abs(is_sound(draft(replace(found, strands=n), 1)).width_mm - wide)
        for n in (found.strands - DESIGNS[kind].unit, found.strands + DESIGNS[kind].unit)
    }
    assert abs(is_sound(draft(found, 1)).width_mm - wide) <= min(off.values())


def test_kinds_differ_in_more_than_their_name() -> None:
    works = {draft(answers_for(kind, "40 cm"), 4).partition("\nwork:")[2] for kind in DESIGNS}
    assert len(works) == len(DESIGNS)
    assert {DESIGNS[kind].kind for kind in DESIGNS} <= set(KINDS)


def test_new_writes_a_commented_file_that_passes_check_and_names_the_schema(
    tmp_path: Path,
) -> None:
    """The line names no place of this machine: the schema stands beside the file."""
    file = tmp_path / "strap.yaml"
    answers = "belt\nשלום #1\nbuckle\nreed, sienna, 3 mm\n\n1 m\n\n5 cm\n"  # noqa: RUF001 - another script
    done = coach("new", str(file), typed=answers)
    assert done.returncode == 0, done.stderr
    text = file.read_text(encoding="utf-8")
    assert text.startswith("# yaml-language-server: $schema=format-1.schema.json\n")
    assert str(tmp_path) not in text
    beside = tmp_path / "format-1.schema.json"
    assert beside.read_bytes() == new.SCHEMA.read_bytes()
    assert text.count("# ") > 5
    done = coach("check", str(file))
    assert (done.returncode, done.stdout.strip()) == (0, f"{file}: sound")
    beside.unlink()
    assert coach("new", str(file), "--schema").returncode == 0
    assert beside.exists()


def test_options_answer_and_the_usual_answers_the_rest(tmp_path: Path) -> None:
    """No question is asked: nothing is typed."""
    options = ["--kind", "plant hanger", "--length", "60 cm", "--knots", "plait", "--usual"]
    cord = ["--cord", "rush, tan, 4 mm", "--strands", "13", "--hang", "dowel"]
    file = tmp_path / "hanger.yaml"
    done = coach("new", str(file), *options, *cord, typed="")
    assert done.returncode == 0, done.stderr
    assert "12 strands: a hanger goes up in steps of 4" in done.stdout
    assert "about 60 cm long" in done.stdout
    assert 'rush: {colour: "tan"' in file.read_text(encoding="utf-8")
    wrong = coach("new", str(tmp_path / "no.yaml"), "--kind", "hat", "--usual")
    assert (wrong.returncode, "One of bracelet, belt" in wrong.stderr) == (2, True)
    assert not (tmp_path / "no.yaml").exists()


def test_a_wrong_answer_is_asked_again(capsys: pytest.CaptureFixture[str]) -> None:
    given_answers = iter([
        "hatstand", "mat", "", "tree", "", "2reed", "reed, blurple", "reed, teal, 10,5 mm",
        "reed, teal, 2 mm", "Reed", "", "soon", "20 cm", "granny", "square knot", "no", "9",
    ])  # fmt: skip
    answers = Questions(Namespace(), lambda _: next(given_answers)).answers()
    assert (answers.title, answers.kind, answers.strands) == ("Mud-flat mat", "mat", 8)
    assert answers.cords == [DraftCord("reed", "teal", "2 mm")]
    said = capsys.readouterr().out
    assert "There is a cord Reed already" in said
    assert "8 strands: a mat goes up in steps of 4, from 8." in said
    assert said.count("please.") == 4


@pytest.mark.parametrize("name", ["strap.txt", "there.yaml", "nowhere/strap.yaml"])
def test_new_refuses_a_path_that_exists_or_cannot_be_written(tmp_path: Path, name: str) -> None:
    (tmp_path / "there.yaml").write_text("mine", encoding="utf-8")
    done = coach("new", str(tmp_path / name), typed="\n" * 20)
    assert done.returncode == 2
    assert done.stderr.startswith("coach: ")
    assert "Traceback" not in done.stderr
    assert (tmp_path / "there.yaml").read_text(encoding="utf-8") == "mine"


def test_new_writes_nothing_when_the_answers_end(tmp_path: Path) -> None:
    done = coach("new", str(tmp_path / "strap.yaml"), typed="Strap\n")
    assert done.returncode == 2
    assert not list(tmp_path.iterdir())


SOUND = """\
coach: 1
title: Tide
cords: {reed: {colour: green, diameter: 2 mm}}
start: {hang: [2 reed]}
work: [{knot: square knot, strands: 1-4, times: 3}]
"""


def test_watching_tells_problems_and_plan_again_at_each_save(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "tide.yaml"
    file.write_text(SOUND, encoding="utf-8")
    saves: Iterator[str | None] = iter(
        [None, None, None, SOUND.replace("1-4", "1-5"), None, None, SOUND + "margin: 5 %\n", None]
    )
    pauses: list[float] = []

    def pause(seconds: float) -> None:
        pauses.append(seconds)
        text = next(saves, "stop")
        if text == "stop":
            raise KeyboardInterrupt
        if text is not None:
            file.with_suffix(".new").write_text(text, encoding="utf-8")
            file.with_suffix(".new").replace(file)  # as editors save

    assert watch([str(file)], pause) == 0
    said = capsys.readouterr().out
    assert said.count(f"{file}: sound") == 2
    assert said.count("Knots: 3 in 1 steps") == 2
    assert said.count("OFF-BOARD") == 1
    assert min(pauses) >= 0.2, "looking more often would be a busy loop"


def test_watching_keeps_a_picture_beside_the_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It follows what is saved; a file with errors leaves it as it was."""
    file = tmp_path / "tide.yaml"
    file.write_text(SOUND, encoding="utf-8")
    longer = SOUND.replace("times: 3", "times: 9")
    saves: Iterator[str | None] = iter([None, longer, None, longer.replace("1-4", "1-5"), None])
    pictures: list[str] = []

    def pause(_: float) -> None:
        kept = file.with_suffix(".svg")
        pictures.append(kept.read_text("utf-8") if kept.exists() else "")
        text = next(saves, "stop")
        if text == "stop":
            raise KeyboardInterrupt
        if text is not None:
            file.write_text(text, encoding="utf-8")

    assert watch([str(file)], pause, picture=True) == 0
    first, after = pictures[0], pictures[-1]
    assert first.startswith("<svg")
    assert after.startswith("<svg")
    assert first != after
    assert capsys.readouterr().out.count("The picture is in tide.svg.") == 2


def test_a_picture_is_kept_over_none_that_is_there_and_of_no_file_of_the_coach(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    there = tmp_path / "tide.yaml"
    there.write_text(SOUND, encoding="utf-8")
    there.with_suffix(".svg").write_text("mine", encoding="utf-8")
    for project, watched, told in (
        (str(there), True, "tide.svg is there already; --replace writes over it."),
        (str(there), False, "--picture goes with --watch"),
        ("tide-band", True, "A project that comes with the coach has no picture"),
    ):
        asked = Namespace(
            projects=[project], json=False, watch=watched, picture=True, replace=False
        )
        assert run(asked) == 2
        assert told in capsys.readouterr().err
    assert there.with_suffix(".svg").read_text("utf-8") == "mine"


def test_watching_is_for_people_and_needs_a_file(tmp_path: Path) -> None:
    there = tmp_path / "tide.yaml"
    there.write_text(SOUND, encoding="utf-8")
    usual = {"watch": True, "picture": False, "replace": False}
    assert run(Namespace(projects=[str(there)], json=True, **usual)) == 2
    assert run(Namespace(projects=[str(tmp_path / "none.yaml")], json=False, **usual)) == 2
