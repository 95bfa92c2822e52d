"""Small files beside the pieces: a slow disk holds up no key, and what failed is tried again."""

import errno
import json
import os
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from coach.session.count_mode import PassStore
from coach.session.quick_settings import Toggles
from coach.settings import small_file
from coach.settings.overrides import Kept
from coach.settings.small_file import SmallFile
from coach.whole_file import put_whole


class Disk:
    """A disk that takes as long over each writing as the test says."""

    def __init__(self) -> None:
        self.go = threading.Event()
        self.full = False
        self.writings = 0

    def put(self, path: Path, data: bytes, *, replace: bool, mode: int) -> None:
        self.writings += 1
        assert self.go.wait(60), "it is never let go"
        if self.full:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        put_whole(path, data, replace=replace, mode=mode)


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> Disk:
    disk = Disk()
    monkeypatch.setattr(small_file, "put_whole", disk.put)
    monkeypatch.setattr(small_file, "MOMENT_S", 0.0)
    return disk


def arrived(file: SmallFile, disk: Disk) -> None:
    """Let the disk go on, and wait for all that is on its way."""
    disk.go.set()
    assert file._thread
    file._thread.shutdown()
    file._thread = None


@pytest.mark.parametrize("change", ["theme", "units", "any_key", "speech", "count_by"])
def test_no_key_that_changes_a_setting_waits_for_the_disk(
    tmp_path: Path, disk: Disk, change: str
) -> None:
    path = tmp_path / "changed.json"
    kept = Kept(path=path)
    told = Toggles(kept).by_action(lambda: "")[change]()
    assert "could not" not in told
    assert not path.exists()
    arrived(kept._file, disk)
    assert Kept(path=path).now == kept.now != Kept().now


def test_no_pass_waits_for_the_disk_and_the_last_ones_get_there(tmp_path: Path, disk: Disk) -> None:
    passes = PassStore(tmp_path)
    for made in (1, 2, 3):
        passes.put(7, 5, made)
        assert passes.made(7, 5) == made
    passes.put(8, 0, 1)
    assert not list(tmp_path.iterdir())
    arrived(passes._file, disk)
    again = PassStore(tmp_path)
    assert (again.made(7, 5), again.made(8, 0)) == (3, 1)
    assert disk.writings <= 2, "all that waited is written together"


def test_what_could_not_be_written_is_written_with_the_next_change(
    tmp_path: Path, disk: Disk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(small_file, "MOMENT_S", 60.0)
    disk.go.set()
    disk.full = True
    file = SmallFile(tmp_path / "made" / "held.json")
    assert not file.change({"reed": 1, "clay": 2})
    assert not file.change({"reed": None})
    disk.full = False
    assert file.change({"tide": 3})
    assert file.read() == {"clay": 2, "tide": 3}


def test_what_another_coach_wrote_meanwhile_stays(tmp_path: Path) -> None:
    path = tmp_path / "held.json"
    one, other = SmallFile(path), SmallFile(path)
    assert one.change({"reed": 1})
    assert other.change({"clay": 2})
    assert one.change({"reed": None})
    assert json.loads(path.read_text()) == {"clay": 2}


@pytest.mark.parametrize("fails", ["fsync", "write"])
def test_a_full_disk_leaves_no_file_that_is_empty_or_half(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fails: str
) -> None:
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    deed: Callable[..., object] = full
    file = SmallFile(tmp_path / "held.json")
    assert file.change({"reed": 1})
    with monkeypatch.context() as broken:
        if fails == "fsync":
            broken.setattr(os, "fsync", deed)
        else:
            broken.setattr(os, "fdopen", deed)
        assert not file.change({"reed": 2})
    assert [path.name for path in tmp_path.iterdir()] == ["held.json"]
    assert file.read() == {"reed": 1}
