"""A project file that is edited while its piece is under way."""

import re
from pathlib import Path

import pytest
from real_terminal import RealTerminal

from coach.piece import Store, SystemClock, look
from coach.piece.changed import compare
from coach.plan.model import Plan
from coach.reading import read_plan
from coach.verbs.desk import Desk

RING = (Path(__file__).parents[2] / "projects" / "reed-keyring.yaml").read_text()


def plan_of(text: str) -> Plan:
    plan = read_plan(text).plan
    assert plan is not None
    return plan


def edited(*changes: tuple[str, str]) -> str:
    text = RING
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return text


CLOSING = "name: closing\n    strands: 1-4\n    times: "
LATER = (f"{CLOSING}3", f"{CLOSING}5")
EARLIER = ("strands: 1-4\n      times: 4", "strands: 1-4\n      times: 6")
MORE_REPEATS = ("use: strap\n    times: 2", "use: strap\n    times: 3")
THICKER = ("diameter: 2 mm", "diameter: 3 mm")


@pytest.mark.parametrize(
    ("change", "done", "same", "place", "said"),
    [
        (LATER, 6, True, 6, r"square knot on 1 to 4, 5 times.*was square knot on 1 to 4, 3 times"),
        (LATER, 25, True, 25, "square knot"),
        (LATER, 26, False, 28, "square knot"),
        (EARLIER, 1, True, 1, "strap, step 1: .*6 times"),
        (EARLIER, 8, False, 10, r"strap, step 1: .*\(2 times\)"),
        (("takes: 1 min", "takes: 2 min"), 9, True, 9, "Only words, measures or times"),
        (MORE_REPEATS, 9, True, 9, "strap: made 3 times, was 2"),
        (THICKER, 9, True, 9, "cord reed: 3.0 mm thick, was 2.0"),
        (("nest: [reed, clay]", "nest: [clay, reed]"), 9, False, 9,
         "at the start 4 strands hang: 1 clay, 2 reed"),
        (("  - bead: 2-3\n    size: 8 mm\n", "  - flip: piece\n  - bead: 2-3\n    size: 8 mm\n"),
         3, True, 3, "new: Turn the whole work over"),
    ],
)  # fmt: skip
def test_what_was_edited_is_told_in_the_knotters_terms(
    change: tuple[str, str],
    done: int,
    same: bool,
    place: int,
    said: str,
) -> None:
    """Whether all that is tied is the same, and which count of the new plan is the nearest."""
    text = edited(change)
    found = compare(plan_of(RING), plan_of(text), text, done)
    assert found.same == same
    assert re.search(said, "\n".join(found.told))
    if not said.startswith("at the start"):
        assert found.place == place


def counted(home: Path, file: Path, done: int) -> Desk:
    """Begin a piece of a project file and count some of it."""
    store = Store(home / "data" / "coach.db")
    desk = Desk(store, SystemClock())
    desk.begin(str(file)).sitting.count(done)
    return desk


def test_an_edit_is_asked_about_once_and_taken_over_or_declined(tmp_path: Path) -> None:
    file = tmp_path / "ring.yaml"
    file.write_text(RING)
    desk = counted(tmp_path, file, 6)
    assert desk.open(1).edited is None
    file.write_text(edited(LATER))
    asked = desk.open(1).edited
    assert asked is not None
    asked.stay()
    assert desk.open(1).edited is None, "the same edit is not asked about again"
    file.write_text(edited(LATER, ("takes: 1 min", "takes: 2 min")))
    asked = desk.open(1).edited
    assert asked is not None
    opened = asked.take()
    assert (opened.edited, opened.plan.total, opened.sitting.state.done) == (None, 29, 6)
    assert opened.sitting.count().done == 7
    file.write_text("coach: 1\ntitle: [torn")
    assert desk.open(1).edited is None, "a file with problems changes nothing"
    file.unlink()
    assert desk.open(1).sitting.state.done == 7


def test_the_bench_asks_in_a_terminal_and_takes_the_edit_over(tmp_path: Path) -> None:
    file = tmp_path / "ring.yaml"
    file.write_text(RING)
    counted(tmp_path, file, 6)
    file.write_text(edited(EARLIER))
    with RealTerminal("knot", str(file), home=str(tmp_path), columns=60, rows=16) as terminal:
        terminal.until("was edited since")
        assert "strap, step 1" in terminal.text
        assert "count 8 of 31" in " ".join(terminal.text.split())
        terminal.press("t")
        terminal.until("made    1 of 6: half knot")
        terminal.press("q")
        assert terminal.end() == 0
    with Store(tmp_path / "data" / "coach.db") as store:
        assert (look(store, 1).done, look(store, 1).total) == (8, 31)
