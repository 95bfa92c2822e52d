"""A project file that is edited while its piece is under way.

Needs POSIX: pseudo-terminals.
"""

import re
from pathlib import Path

import pytest
from real_terminal import RealTerminal

from coach.cli.workshop.workshop import Workshop
from coach.piece import Store, SystemClock, look
from coach.piece.entering.project_diff import compare
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.plan.resize.size_request import Wish
from coach.session.ports import CannotOpen

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
ON_FOUR = "square knot on strands 1 to 4"
LATER = (f"{CLOSING}3", f"{CLOSING}5")
EARLIER = ("strands: 1-4\n      times: 4", "strands: 1-4\n      times: 6")
MORE_REPEATS = ("use: strap\n    times: 2", "use: strap\n    times: 3")
THICKER = ("diameter: 2 mm", "diameter: 3 mm")


@pytest.mark.parametrize(
    ("change", "done", "same", "place", "said"),
    [
        (LATER, 6, True, 6, f"{ON_FOUR}, five times.*was {ON_FOUR}, three times"),
        (LATER, 25, True, 25, "square knot"),
        (LATER, 26, False, 28, "square knot"),
        (EARLIER, 1, True, 1, "strap, step 1: .*six times"),
        (EARLIER, 8, False, 10, r"strap, step 1: .*\(2 times\)"),
        (("takes: 1 min", "takes: 2 min"), 9, True, 9, "Only words, measures or times"),
        (MORE_REPEATS, 9, True, 9, "strap: made 3 times, was 2"),
        (THICKER, 9, True, 9, "cord reed: 3.0 mm thick, was 2.0"),
        (("fibre: cotton, ", ""), 9, True, 9, "cord reed: cotton no longer given$"),
        (("colour: sienna, ", ""), 9, True, 9, "cord clay: sienna no longer given$"),
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


def test_a_colour_or_fibre_that_was_not_given_before_is_told_as_such() -> None:
    text = edited(("colour: sienna, fibre: cotton, ", ""))
    (told,) = compare(plan_of(text), plan_of(RING), RING, 9).told
    assert told == "cord clay: sienna, not given before and cotton, not given before"


def counted(home: Path, file: Path, done: int) -> Workshop:
    """Begin a piece of a project file and count some of it."""
    store = Store(home / "data" / "coach.db")
    desk = Workshop(store, SystemClock())
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


THREE = Wish(repeats={"strap": 3}, cords={"reed": 1.5})


def fitted(folder: Path, done: int) -> tuple[Path, Workshop]:
    """Begin a piece of three straps where the file says two, in thinner reed; count some of it."""
    file = folder / "ring.yaml"
    file.write_text(RING)
    desk = Workshop(Store(folder / "data" / "coach.db"), SystemClock())
    opened = desk.begin(str(file), THREE)
    assert opened.plan.total == 37
    opened.sitting.count(done)
    assert desk.open(1).edited is None
    return file, desk


def test_of_a_fitted_piece_only_what_was_edited_is_told(tmp_path: Path) -> None:
    """Its own repeats and cords are no change, and it goes on with them after taking the file."""
    file, desk = fitted(tmp_path, 32)
    file.write_text(edited(LATER))
    asked = desk.open(1).edited
    assert asked is not None
    assert len(asked.change.told) == 1
    assert re.search(f"{ON_FOUR}, five times.*was .*three times", asked.change.told[0])
    assert (asked.change.same, asked.change.place, asked.change.refused) == (True, 32, "")
    opened = asked.take()
    assert opened.edited is None
    assert (opened.plan.repeats["strap"], opened.plan.total) == (3, 39)
    assert opened.plan.project.cords["reed"].diameter_mm == 1.5
    assert opened.sitting.count().done == 33
    again = desk.open(1)
    assert (again.plan.counts, again.sitting.state.total) == (opened.plan.counts, 39)


def test_a_fitted_piece_is_set_to_the_nearest_place_of_the_fitted_plan(tmp_path: Path) -> None:
    """Three straps are made, each of two knots more now: more counts than two straps have."""
    file, desk = fitted(tmp_path, 30)
    file.write_text(edited(EARLIER))
    asked = desk.open(1).edited
    assert asked is not None
    assert (asked.change.same, asked.change.place) == (False, 36)
    assert re.search(r"\(3 times\)", asked.change.told[0])
    assert asked.take().sitting.state.done == 36


def test_a_fitted_piece_can_stay_as_it_is(tmp_path: Path) -> None:
    file, desk = fitted(tmp_path, 32)
    file.write_text(edited(LATER))
    asked = desk.open(1).edited
    assert asked is not None
    asked.stay()
    opened = desk.open(1)
    assert (opened.edited, opened.plan.repeats["strap"], opened.plan.total) == (None, 3, 37)


def test_what_a_piece_was_fitted_in_and_the_file_has_no_more_is_told(tmp_path: Path) -> None:
    """The part has another name: it is made as the file says; the cord stays fitted."""
    file, desk = fitted(tmp_path, 3)
    file.write_text(RING.replace("strap", "band"))
    asked = desk.open(1).edited
    assert asked is not None
    assert asked.change.told[0].startswith("strap: not in it any more")
    opened = asked.take()
    assert (opened.plan.repeats["band"], opened.plan.total) == (2, 27)
    assert opened.plan.project.cords["reed"].diameter_mm == 1.5


def test_a_file_that_cannot_be_fitted_as_the_piece_was_is_not_taken_over(tmp_path: Path) -> None:
    """Each strap lays a strand aside now: of the third no square knot can be made."""
    file, desk = fitted(tmp_path, 3)
    text = edited(
        ("clay: {colour: sienna, fibre: cotton, diameter: 2 mm, pieces: 1",
         "clay: {colour: sienna, fibre: cotton, diameter: 2 mm, pieces: 2"),
        ("nest: [reed, clay]", "nest: [reed, 2 clay]"),
        ("      note: Let the strap", "    - lay aside: 1\n      note: Let the strap"),
    )  # fmt: skip
    plan_of(text)
    file.write_text(text)
    asked = desk.open(1).edited
    assert asked is not None
    assert "fitted" in asked.change.refused
    assert "strand" in asked.change.refused
    with pytest.raises(CannotOpen, match="fitted"):
        asked.take()
    with RealTerminal("knot", str(file), home=str(tmp_path), columns=80, rows=16) as terminal:
        terminal.until("decide later")
        assert "The piece cannot continue with it" in terminal.text
        assert "edited file" not in terminal.text
        terminal.press("t")
        terminal.press("s")
        terminal.until("Does the work hang")
        terminal.press("q")
        assert terminal.end() == 0
    assert desk.open(1).edited is None
    assert desk.open(1).plan.total == 37


def test_the_bench_asks_in_a_terminal_and_takes_the_edit_over(tmp_path: Path) -> None:
    file = tmp_path / "ring.yaml"
    file.write_text(RING)
    counted(tmp_path, file, 6)
    file.write_text(edited(EARLIER))
    with RealTerminal("knot", str(file), home=str(tmp_path), columns=60, rows=16) as terminal:
        terminal.until("decide later")
        assert "has been edited" in terminal.text
        assert "strap, step 1" in terminal.text
        assert "count 8 of 31" in " ".join(terminal.text.split())
        terminal.press("t")
        terminal.until("made    1 of 6: half knot")
        terminal.press("q")
        assert terminal.end() == 0
    with Store(tmp_path / "data" / "coach.db") as store:
        assert (look(store, 1).done, look(store, 1).total) == (8, 31)
