"""Beginning a project file, and the coach reading along while it is written."""

from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path

import pytest
from command_line import coach
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.cli.commands import new
from coach.cli.commands.check import run
from coach.cli.watch import watch
from coach.plan.from_text import read_plan, with_advice
from coach.project.readers.header import KINDS
from coach.project.readers.start import PLACES
from coach.project.template import Answers, DraftCord, draft


@settings(deadline=None, max_examples=40)
@given(
    st.text(min_size=1, max_size=20),
    st.sampled_from(KINDS),
    st.sampled_from(PLACES),
    st.lists(st.integers(1, 6), min_size=1, max_size=3),
)
def test_whatever_is_answered_the_draft_is_sound(
    title: str, kind: str, on: str, pieces: list[int]
) -> None:
    cords = [DraftCord(f"cord {chr(97 + n)}", "#5b7f3a", '1/8"', p) for n, p in enumerate(pieces)]
    asked = iter([f"{title}\n"])
    clean = new._until(lambda _: next(asked), "", "Reed strap", str)
    text = draft(Answers(clean, kind, on, cords), "file:///format.json")
    reading = with_advice(read_plan(text))
    assert reading.plan, (reading.problems, text)
    assert reading.plan.project.title == clean
    assert not [problem for problem in reading.problems if problem.code != "LEFT-OVER"]


def test_new_writes_a_commented_file_that_passes_check_and_names_the_schema(
    tmp_path: Path,
) -> None:
    file = tmp_path / "strap.yaml"
    answers = "שלום #1\nbelt\nbuckle\nreed\nsienna\n3 mm\n2\n\n"
    assert coach("new", str(file), typed=answers).returncode == 0
    text = file.read_text(encoding="utf-8")
    assert text.startswith(f"# yaml-language-server: $schema={new.SCHEMA.as_uri()}\n")
    assert text.count("# ") > 5
    done = coach("check", str(file))
    assert (done.returncode, done.stdout.strip()) == (0, f"{file}: sound")


def test_a_wrong_answer_is_asked_again(capsys: pytest.CaptureFixture[str]) -> None:
    first = ["", "hatstand", "mat", "", "2reed", "reed", "blurple", "teal", "10,5 mm", "2 mm", "0"]
    given_answers = iter([*first, "2", "Reed", "", "", "", "", ""])
    answers = new.ask(lambda _: next(given_answers))
    assert (answers.title, answers.kind, answers.strands) == ("Reed strap", "mat", 4)
    said = capsys.readouterr().out
    assert "point, not a comma" in said
    assert "There is a cord Reed already" in said


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


def test_watching_is_for_people_and_needs_a_file(tmp_path: Path) -> None:
    there = tmp_path / "tide.yaml"
    there.write_text(SOUND, encoding="utf-8")
    assert run(Namespace(projects=[str(there)], json=True, watch=True)) == 2
    assert run(Namespace(projects=[str(tmp_path / "none.yaml")], json=False, watch=True)) == 2
