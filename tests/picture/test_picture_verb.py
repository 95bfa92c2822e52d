"""`coach picture`: what it writes, and what it says of a wrong call."""

from pathlib import Path

import pytest
from pictured import HEAD

from coach.cli.main import main

TEXT = (
    HEAD + "colourways:\n  dusk: {reed: '#41506b', clay: plum}\n"
    "start: {hang: [reed, clay]}\nwork:\n  - {knot: square knot, strands: 1-4, times: 3}\n"
)


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    path = tmp_path / "strap.yaml"
    path.write_text(TEXT, encoding="utf-8")
    return path


def said(capsys: pytest.CaptureFixture[str], *call: str) -> tuple[int, str, str]:
    status = main(["picture", *call])
    out, err = capsys.readouterr()
    return status, out, err


def test_it_writes_a_file_and_none_over_another(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = file.with_name("strap.svg")
    assert said(capsys, str(file), "-o", str(target))[0] == 0
    assert target.read_text("utf-8").startswith("<svg")
    before = target.read_text("utf-8")
    status, _, err = said(capsys, str(file), "-o", str(target), "--back")
    assert (status, target.read_text("utf-8")) == (2, before)
    assert "is there already" in err
    assert said(capsys, str(file), "-o", str(target), "--back", "--replace")[0] == 0
    assert target.read_text("utf-8") != before


def test_colours_come_from_the_file_the_colourway_and_the_call_in_turn(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plain = said(capsys, str(file))[1]
    assert "stroke:#5b7f3a" in plain
    dusk = said(capsys, str(file), "--colourway", "dusk")[1]
    assert "stroke:#41506b" in dusk
    assert "stroke:#dda0dd" in dusk
    both = said(capsys, str(file), "--colourway", "dusk", "--colour", "clay=Sea Green")[1]
    assert "stroke:#2e8b57" in both
    assert "stroke:#dda0dd" not in both


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (("--colour", "tide=plum"), "no cord ‘tide’. Its cords are reed and clay."),
        (("--colour", "reed=plumm"), "Unknown colour ‘plumm’. Did you mean ‘plum’?"),
        (("--colour", "reed=\x1b[31m"), "Unknown colour"),
        (("--colour", "reed"), "such as tide=plum"),
        (("--colourway", "dawn"), "no colourway ‘dawn’. It has ‘dusk’."),
        (("--at", "4"), "from 0 to 3"),
        (("--at", "-1"), "from 0 to 3"),
        (("--at", "9" * 5000), "from 0 to 3"),
        (("-o", "/nowhere/at/all.svg"), "cannot be written"),
    ],
)
def test_a_wrong_call_is_told_and_nothing_is_drawn(
    call: tuple[str, ...], words: str, file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    given = (f"{call[0]}={call[1]}",) if call[0].startswith("--") else call
    status, out, err = said(capsys, str(file), *given)
    assert (status, out) == (2, "")
    assert words in err
    assert "\x1b" not in err


def test_after_some_counts_the_work_is_shorter_and_the_title_says_when(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    whole, part = said(capsys, str(file))[1], said(capsys, str(file), "--at", "1")[1]
    assert "after 1 of 3 counts" in part
    assert part.count('href="#k') < whole.count('href="#k')
    assert said(capsys, str(file), "--at", "0")[0] == 0


def test_a_file_with_errors_gives_one_and_no_picture(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(TEXT.replace("1-4", "1-9"), encoding="utf-8")
    status, out, err = said(capsys, str(file))
    assert (status, out) == (1, "")
    assert "strap.yaml" in err


def test_colours_are_saved_into_the_file_by_a_name_with_its_comments(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(TEXT.replace("start:", "# how it hangs\nstart:"), encoding="utf-8")
    call = (str(file), "--colour", "reed=plum", "--save", "noon")
    status, out, err = said(capsys, *call)
    assert (status, err) == (0, "coach: The colourway noon stands in strap.yaml.\n")
    assert "stroke:#dda0dd" in out
    text = file.read_text("utf-8")
    assert "# how it hangs" in text
    assert '  noon: {reed: "#dda0dd"}\n' in text
    assert said(capsys, str(file), "--colourway", "noon")[1] == out
    status, _, err = said(capsys, str(file), "--colour", "reed=gold", "--save", "noon")
    assert (status, file.read_text("utf-8")) == (2, text)
    assert "--replace" in err
    assert said(capsys, str(file), "--colour", "reed=gold", "--save", "noon", "--replace")[0] == 0
    assert file.read_text("utf-8") == text.replace("#dda0dd", "#ffd700")


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (("tide-band", "--colour", "tide=plum", "--save", "noon"), "comes with the coach"),
        (("FILE", "--save", "noon"), "nothing to write"),
        (("FILE", "--colour", "reed=plum", "--save", " "), "needs a name"),
    ],
)
def test_colours_that_cannot_be_saved_are_told_and_nothing_is_written(
    file: Path, capsys: pytest.CaptureFixture[str], call: tuple[str, ...], words: str
) -> None:
    status, out, err = said(capsys, *(str(file) if part == "FILE" else part for part in call))
    assert (status, out) == (2, "")
    assert words in err
    assert file.read_text("utf-8") == TEXT


def test_only_round_work_is_drawn_as_a_tube(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = said(capsys, str(file), "--tube")
    assert (status, out) == (2, "")
    assert "not worked in the round" in err
    assert "as a tube" in said(capsys, "marsh-pot-hanger", "--tube")[1]
