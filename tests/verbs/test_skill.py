"""The maker's skill: asked once where somebody is there to answer, and used for every time."""

import json
import os
import sys
from pathlib import Path

import pytest
from processes import Started

from coach.cli import main
from coach.cli.skill_question import ask_skill
from coach.settings.overrides import Kept
from coach.settings.settings import Settings


@pytest.mark.parametrize(
    ("said", "skill"),
    [
        ("n\n", "new to it"), ("P\n", "practised"), ("quick\n", "quick"), ("\n", "practised"),
        ("", "practised"), ("perhaps\n", "practised"), ("\x1b[31m\n", "practised"),
    ],
)  # fmt: skip
def test_what_is_answered_is_kept(tmp_path: Path, said: str, skill: str) -> None:
    path = tmp_path / "changes.json"
    assert ask_skill(Kept(path=path), lambda: said) == skill
    assert Kept(path=path).now.skill == skill


def test_the_file_is_right_again_once_it_says_a_skill(tmp_path: Path) -> None:
    path = tmp_path / "changes.json"
    ask_skill(Kept(path=path), lambda: "n\n")
    assert Kept(Settings(skill="quick"), path).now.skill == "quick"


def planned(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], home: Path, skill: str
) -> dict[str, float]:
    monkeypatch.setenv("COACH_HOME", str(home))
    (home / "settings").mkdir(parents=True, exist_ok=True)
    (home / "settings" / "settings.yaml").write_text(f"skill: {skill}\n" if skill else "")
    assert main.main(["plan", "tide-band", "--json"]) == 0
    found: dict[str, float] = json.loads(capsys.readouterr().out)["time_s"]
    return found


def test_the_plan_is_told_for_the_skill_that_is_set(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A novice is told more, and whoever told her skill a narrower range than who did not."""
    told = {
        skill: planned(monkeypatch, capsys, tmp_path, skill)
        for skill in ("", "new to it", "practised", "quick")
    }
    assert told["new to it"]["likely"] > 1.7 * told["practised"]["likely"]
    assert told["practised"]["likely"] > 1.3 * told["quick"]["likely"]
    for skill in ("new to it", "practised", "quick"):
        assert told[skill]["high"] / told[skill]["low"] <= 2.7
    assert told[""]["high"] / told[""]["low"] > 3


def test_more_repeats_take_longer_whatever_the_file_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """605 square knots against 35: each of those that are more takes a hand some seconds."""
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    times = []
    for locks in (10, 200):
        assert main.main(["plan", "sluice-belt", "--repeats", f"lock={locks}", "--json"]) == 0
        times.append(json.loads(capsys.readouterr().out)["time_s"]["likely"])
    assert (times[1] - times[0]) / (605 - 35) > 9


def in_a_terminal(home: Path, *arguments: str, typed: bytes) -> str:
    """Run the coach with a terminal as input and output, something being typed ahead."""
    ours, theirs = os.openpty()
    os.write(ours, typed)
    seen = {"COACH_HOME": str(home), "TERM": "dumb"}
    command = [sys.executable, "-m", "coach", *arguments]
    with Started(command, environment=seen, stdin=theirs, stdout=theirs, stderr=theirs) as running:
        os.close(theirs)
        told = b""
        try:
            while part := os.read(ours, 65_536):
                told += part
        except OSError:  # the terminal is gone with its last program
            pass
        assert running.wait() == 0
    os.close(ours)
    return told.decode()


def test_it_is_asked_once_at_the_first_plan_in_a_terminal(tmp_path: Path) -> None:
    first = in_a_terminal(tmp_path, "plan", "reed-keyring", typed=b"n\n")
    assert "How practised are you at knotting?" in first
    assert "Times set: new to it." in first
    again = in_a_terminal(tmp_path, "plan", "reed-keyring", typed=b"")
    assert "How practised" not in again
    assert "Reed keyring" in again


@pytest.mark.parametrize(
    "arguments", [["plan", "reed-keyring", "--json"], ["check", "reed-keyring"]]
)
def test_programs_are_asked_nothing(tmp_path: Path, arguments: list[str]) -> None:
    """Even in a terminal, where the output is for a program or tells no time."""
    assert "How practised" not in in_a_terminal(tmp_path, *arguments, typed=b"")
