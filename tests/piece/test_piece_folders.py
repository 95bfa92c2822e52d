"""Where things are kept, and what is said when they cannot be.

Needs POSIX: rights of files and what Linux tells of processes and drives.
"""

import os
from pathlib import Path

import pytest

from coach.piece.piece_errors import CannotKeep
from coach.piece.storage.folders import ensure_folder, ensure_private_file, folders


def mode(path: Path) -> int:
    return path.stat().st_mode & 0o777


def test_coach_home_moves_everything_into_one_folder(tmp_path: Path) -> None:
    found = folders({"COACH_HOME": str(tmp_path / "stick")})
    assert found.data == tmp_path / "stick" / "data"
    assert found.settings == tmp_path / "stick" / "settings"
    assert found.cache == tmp_path / "stick" / "cache"
    assert found.database == tmp_path / "stick" / "data" / "coach.db"
    assert not (tmp_path / "stick").exists(), "asking where is not making"


def test_a_relative_home_is_made_full(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert folders({"COACH_HOME": "stick"}).data == tmp_path / "stick" / "data"


@pytest.mark.parametrize("environment", [{}, {"COACH_HOME": ""}, {"COACH_HOME": "  "}])
def test_without_coach_home_the_systems_places_serve(
    environment: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))
    found = folders(environment)
    assert len({found.data, found.settings, found.cache}) == 3
    assert all("bench-coach" in str(path) for path in (found.data, found.settings, found.cache))


def test_folders_are_made_for_their_owner_alone(tmp_path: Path) -> None:
    umask = os.umask(0)
    try:
        folder = ensure_folder(tmp_path / "a" / "b")
    finally:
        os.umask(umask)
    assert [mode(folder), mode(folder.parent)] == [0o700, 0o700]
    assert ensure_folder(folder) == folder


def test_a_file_is_closed_to_others_also_when_it_was_open(tmp_path: Path) -> None:
    path = tmp_path / "data" / "coach.db"
    assert mode(ensure_private_file(path)) == 0o600
    path.chmod(0o644)
    assert mode(ensure_private_file(path)) == 0o600


@pytest.mark.parametrize("place", ["taken", "taken/below", "taken/far/below"])
def test_a_file_where_a_folder_should_be_is_told(tmp_path: Path, place: str) -> None:
    """The message names the folder and the way out."""
    (tmp_path / "taken").write_text("a shopping list")
    with pytest.raises(CannotKeep, match="COACH_HOME") as told:
        ensure_folder(tmp_path / place)
    assert str(tmp_path / place) in str(told.value)
    assert "Errno" not in str(told.value)


def test_a_place_where_nothing_can_be_written_is_told() -> None:
    with pytest.raises(CannotKeep, match="/proc/coach"):
        ensure_folder(Path("/proc/coach/data"))


def test_a_folder_where_the_file_should_be_is_told(tmp_path: Path) -> None:
    (tmp_path / "coach.db").mkdir()
    with pytest.raises(CannotKeep, match="is a directory"):
        ensure_private_file(tmp_path / "coach.db")
