"""A piece outlives its project's file, and is named where the file is asked for."""

import shutil
from pathlib import Path

import pytest

from coach.cli.desk import Desk
from coach.cli.shelf import find
from coach.piece import Store, SystemClock
from coach.session.ports import CannotOpen


@pytest.mark.parametrize("name", ["strap.yaml", "reed keyring’s.yaml"])
def test_a_piece_whose_file_is_gone_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.chdir(tmp_path)
    shutil.copy(find("reed-keyring").path, name)
    with Store(tmp_path / "coach.db") as store:
        desk = Desk(store, SystemClock())
        begun = desk.begin(name, name="for the shop")
        begun.sitting.count(3)
        Path(name).unlink()
        with pytest.raises(CannotOpen, match="`coach knot 'for the shop'`"):
            desk.unfinished(name)
        with pytest.raises(CannotOpen, match="for the shop"):
            desk.unfinished(str(tmp_path / name))
        assert desk.named("for the shop")
        with pytest.raises(CannotOpen, match="There is no project"):
            desk.unfinished("other.yaml")
