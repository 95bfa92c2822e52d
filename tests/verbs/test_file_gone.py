"""A piece outlives its project's file, and is named where the file is asked for."""

import shutil
from pathlib import Path

import pytest

from coach.cli.project_finder import find_project
from coach.cli.workshop.workshop import Workshop
from coach.piece import Store, SystemClock
from coach.session.ports import CannotOpen


@pytest.mark.parametrize("name", ["strap.yaml", "reed keyring’s.yaml"])
def test_a_piece_whose_file_is_gone_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.chdir(tmp_path)
    shutil.copy(find_project("reed-keyring").path, name)
    with Store(tmp_path / "coach.db") as store:
        workshop = Workshop(store, SystemClock())
        begun = workshop.begin(name, name="for the shop")
        begun.sitting.count(3)
        Path(name).unlink()
        with pytest.raises(CannotOpen, match="`coach knot 'for the shop'`"):
            workshop.unfinished(name)
        with pytest.raises(CannotOpen, match="for the shop"):
            workshop.unfinished(str(tmp_path / name))
        assert workshop.named("for the shop")
        with pytest.raises(CannotOpen, match="There is no project"):
            workshop.unfinished("other.yaml")
