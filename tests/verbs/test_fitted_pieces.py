"""A piece fitted before its first count stays fitted: plan, cut list, total, on every opening."""

from dataclasses import replace
from pathlib import Path

import pytest

from coach.cli.desk import Desk
from coach.pace.estimate import beginning
from coach.piece import Store, SystemClock
from coach.plan.cord.cord_left import CordLeft
from coach.plan.cord.cut_list import cut_list
from coach.plan.resize.body_sizes import body
from coach.plan.resize.size_request import Wish
from coach.session.fitting import NOTHING, Wishing
from coach.session.ports import CannotOpen


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(Store(tmp_path / "coach.db"), SystemClock())


def test_a_fitted_piece_is_opened_as_it_was_fitted(desk: Desk) -> None:
    wish = Wish(repeats={"wave": 8}, cords={"foam": 1.5})
    opened = desk.begin("tide-band", wish)
    assert opened.plan.repeats["wave"] == 8
    assert opened.sitting.state.total == opened.plan.total
    opened.sitting.count()
    again = desk.open(opened.sitting.piece_id)
    assert again.plan.counts == opened.plan.counts
    assert again.plan.project.cords["foam"].diameter_mm == 1.5
    assert again.sitting.state.total == again.plan.total
    assert again.edited is None


def test_its_cords_are_cut_for_the_fitted_size(desk: Desk) -> None:
    plain = desk.begin("tide-band")
    fitted = desk.begin("tide-band", Wish(repeats={"wave": 12}))
    assert cut_list(fitted.plan)[0].cut_mm > cut_list(plain.plan)[0].cut_mm
    assert not any(left.short for left in CordLeft(fitted.plan).at(0))


def test_a_wish_that_cannot_be_made_begins_nothing(desk: Desk) -> None:
    with pytest.raises(CannotOpen, match="no part"):
        desk.begin("tide-band", Wish(repeats={"dune": 3}))
    assert not desk.pieces()


def test_wishes_add_up_and_the_last_one_of_a_thing_holds() -> None:
    wish = Wish(repeats={"wave": 8}, cords={"": 2.0}).also(Wish(repeats={"wave": 6}))
    assert wish == Wish(repeats={"wave": 6}, cords={"": 2.0})
    assert wish.also(Wish(cords={"": 1.0})).cords == {"": 1.0}
    assert Wish.from_data(wish.to_data()) == wish
    assert not Wish()


def test_on_the_plan_repeats_go_in_the_projects_own_steps(desk: Desk) -> None:
    wishing = Wishing(desk.plan("tide-band"))
    wishing.more(1)
    assert wishing.plan.repeats["wave"] == 8
    for _ in range(5):
        wishing.more(-1)
    assert wishing.plan.repeats["wave"] == 4
    assert wishing.told.startswith(NOTHING)


def test_on_the_plan_more_repeats_take_longer_whatever_the_file_says(desk: Desk) -> None:
    """What it says is about its own repeats, and moves what is told by some of the way."""
    plan = desk.plan("tide-band")
    claimed = replace(plan, project=replace(plan.project, takes_s=(40_000.0, 50_000.0)))
    plain, told = (Wishing(one, beginning("practised")) for one in (plan, claimed))
    written = told.time.likely_s
    assert written > 1.2 * plain.time.likely_s
    for _ in range(12):
        told.more(1)
    assert told.time.likely_s > 3 * written


def test_on_the_plan_a_wrist_or_a_length_is_met_and_bad_wishes_change_nothing(
    desk: Desk,
) -> None:
    wishing = Wishing(desk.plan("tide-band"))
    assert [girth.name for girth in wishing.girths] == ["wrist", "ankle"]
    wishing.girth(body("wrist"), "17 cm")
    assert wishing.plan.length_mm == pytest.approx(170 + 15 + 95, abs=25)
    before = wishing.wish
    for said in (
        wishing.length("3 cm"), wishing.length("10,5 cm"), wishing.cord("foam", "40 cm"),
        wishing.cord("foam", "thick"),
    ):  # fmt: skip
        assert said.startswith(NOTHING)
        assert wishing.wish == before
    wishing.cord("foam", "1.5 mm")
    assert wishing.plan.project.cords["foam"].diameter_mm == 1.5
    assert wishing.time.likely_s > 0
