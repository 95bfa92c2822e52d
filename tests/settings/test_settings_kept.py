"""Settings in their folder, and those that the bench changes itself.

Needs POSIX: rights of files.
"""

import json
from pathlib import Path

import pytest

from coach.settings.overrides import Kept
from coach.settings.read_settings import CHANGES, load_settings
from coach.settings.settings import Settings

ACTIONS = {"count": ("space",)}


def test_a_folder_without_a_file_is_no_problem(tmp_path: Path) -> None:
    loaded = load_settings(tmp_path / "none", ACTIONS)
    assert loaded.kept.now == Settings()
    assert loaded.report == ()
    assert not (tmp_path / "none").exists()


def test_the_report_names_file_line_and_column(tmp_path: Path) -> None:
    (tmp_path / "settings.yaml").write_text("units: cm\ntheme: pale\n")
    report = load_settings(tmp_path, ACTIONS).report
    assert report[0].startswith(f"{tmp_path}/settings.yaml:2:8: error[CHOICE]: ")
    assert "theme: pale" in report[1]


@pytest.mark.parametrize("data", [b"\xff\xfe", b"theme: \x00", b"\xfftheme: light"])
def test_a_file_that_is_no_text_is_told(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "settings.yaml").write_bytes(data)
    loaded = load_settings(tmp_path, ACTIONS)
    assert loaded.kept.now == Settings()
    assert len([line for line in loaded.report if "error[" in line]) == 1


def test_what_the_bench_changes_is_there_the_next_time(tmp_path: Path) -> None:
    kept = load_settings(tmp_path, ACTIONS).kept
    assert kept.change(any_key=True)
    assert kept.change(count_by_knot={"half knot": "pass"}, units="in", skill="quick")
    again = load_settings(tmp_path, ACTIONS).kept
    assert again.now == kept.now
    assert again.now.counted_by("half knot") == "pass"
    assert not (tmp_path / "settings.yaml").exists()


def test_the_makers_file_is_right_again_once_it_says_something_else(tmp_path: Path) -> None:
    file = tmp_path / "settings.yaml"
    file.write_text("count by: tie\n")
    load_settings(tmp_path, ACTIONS).kept.change(count_by="step")
    file.write_text("count by: tie\nunits: in\n")
    assert load_settings(tmp_path, ACTIONS).kept.now.count_by == "step"
    file.write_text("count by: pass\n")
    assert load_settings(tmp_path, ACTIONS).kept.now.count_by == "pass"


@pytest.mark.parametrize(
    "text",
    ["", "[]", "{", '{"units": {"was": "cm", "is": "ell"}}', '{"theme": {"was": "dark"}}',
     '{"skill": {"was": "", "is": "clumsy"}}', '{"any_key": {"was": false, "is": "yes"}}',
     '{"count_by": 3}', "[" * 100_000,
     '{"count_by_knot": {"was": {}, "is": {"granny": "tie"}}}'],
)  # fmt: skip
def test_changes_that_cannot_be_understood_are_none(tmp_path: Path, text: str) -> None:
    (tmp_path / CHANGES).write_text(text)
    assert load_settings(tmp_path, ACTIONS).kept.now == Settings()


def test_a_change_that_cannot_be_written_holds_for_the_sitting(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    kept = Kept(path=tmp_path / "file" / "changes.json")
    assert not kept.change(units="in")
    assert kept.now.units == "in"


def test_changes_are_put_in_place_whole_and_for_the_maker_alone(tmp_path: Path) -> None:
    kept = Kept(path=tmp_path / "made" / CHANGES)
    kept.change(units="in")
    kept.change(speech=True)
    assert [path.name for path in (tmp_path / "made").iterdir()] == [CHANGES]
    assert json.loads((tmp_path / "made" / CHANGES).read_text()).keys() == {"units", "speech"}
    assert (tmp_path / "made" / CHANGES).stat().st_mode & 0o077 == 0
