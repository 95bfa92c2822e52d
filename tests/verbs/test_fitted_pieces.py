"""A piece fitted before its first count stays fitted: plan, cut list, total, on every opening."""

from dataclasses import replace
from pathlib import Path

import pytest

import coach.tui.app
from coach.cli.commands import knot
from coach.cli.registry import parse_call
from coach.cli.workshop.workshop import Workshop
from coach.pace.estimate import initial_paces
from coach.piece import Store, SystemClock
from coach.plan.cord.cord_left import CordLeft
from coach.plan.cord.cut_list import cut_list
from coach.plan.resize.body_sizes import body
from coach.plan.resize.size_request import Wish
from coach.session.adjusting.fitting import NOTHING, FittingController
from coach.session.ports import CannotOpen, OnBench


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    return Workshop(Store(tmp_path / "coach.db"), SystemClock())


def test_a_fitted_piece_is_opened_as_it_was_fitted(workshop: Workshop) -> None:
    wish = Wish(repeats={"wave": 8}, cords={"foam": 1.5})
    opened = workshop.begin("tide-band", wish)
    assert opened.plan.repeats["wave"] == 8
    assert opened.sitting.state.total == opened.plan.total
    opened.sitting.count()
    again = workshop.open(opened.sitting.piece_id)
    assert again.plan.counts == opened.plan.counts
    assert again.plan.project.cords["foam"].diameter_mm == 1.5
    assert again.sitting.state.total == again.plan.total
    assert again.edited is None


def test_its_cords_are_cut_for_the_fitted_size(workshop: Workshop) -> None:
    plain = workshop.begin("tide-band")
    fitted = workshop.begin("tide-band", Wish(repeats={"wave": 12}))
    assert cut_list(fitted.plan)[0].cut_mm > cut_list(plain.plan)[0].cut_mm
    assert not any(left.short for left in CordLeft(fitted.plan).at(0))


AIMED = """
coach: 1
title: Reed run
cords: {reed: {colour: green, diameter: 2 mm}}
start: {nest: [2 reed]}
work: [{use: m, times: 4}]
parts: {m: [{knot: square knot, strands: 1-4, times: 2}]}
size: {wish: 20 cm, vary: m}
"""


def test_a_piece_is_begun_with_the_repeats_that_its_file_wishes_for_and_keeps_them(
    workshop: Workshop, tmp_path: Path
) -> None:
    file = tmp_path / "run.yaml"
    file.write_text(AIMED, encoding="utf-8")
    opened = workshop.begin(str(file))
    assert opened.plan.length_mm == pytest.approx(200, abs=7)
    assert opened.sitting.state.total == opened.plan.total
    assert workshop.plan(str(file)).repeats == opened.plan.repeats
    again = workshop.open(opened.sitting.piece_id)
    assert (again.plan.repeats, again.plan.total) == (opened.plan.repeats, opened.plan.total)
    assert again.edited is None


def test_what_is_asked_for_comes_before_the_wish_of_the_file(
    workshop: Workshop, tmp_path: Path
) -> None:
    file = tmp_path / "run.yaml"
    file.write_text(AIMED, encoding="utf-8")
    assert workshop.begin(str(file), Wish(repeats={"m": 3})).plan.repeats == {"m": 3}
    thick = workshop.begin(str(file), Wish(cords={"reed": 3.0})).plan
    assert thick.repeats == workshop.plan(str(file)).repeats
    assert thick.project.cords["reed"].diameter_mm == 3.0


def test_a_wish_that_cannot_be_made_begins_nothing(workshop: Workshop) -> None:
    with pytest.raises(CannotOpen, match="no part"):
        workshop.begin("tide-band", Wish(repeats={"dune": 3}))
    assert not workshop.pieces()


def test_wishes_add_up_and_the_last_one_of_a_thing_holds() -> None:
    wish = Wish(repeats={"wave": 8}, cords={"": 2.0}).also(Wish(repeats={"wave": 6}))
    assert wish == Wish(repeats={"wave": 6}, cords={"": 2.0})
    assert wish.also(Wish(cords={"": 1.0})).cords == {"": 1.0}
    assert Wish.from_data(wish.to_data()) == wish
    assert not Wish()


def test_on_the_plan_repeats_go_in_the_projects_own_steps(workshop: Workshop) -> None:
    wishing = FittingController(workshop.plan("tide-band"))
    wishing.more(1)
    assert wishing.plan.repeats["wave"] == 8
    for _ in range(5):
        wishing.more(-1)
    assert wishing.plan.repeats["wave"] == 4
    assert wishing.told.startswith(NOTHING)


def test_on_the_plan_more_repeats_take_longer_whatever_the_file_says(workshop: Workshop) -> None:
    """What it says is about its own repeats, and moves what is told by some of the way."""
    plan = workshop.plan("tide-band")
    claimed = replace(plan, project=replace(plan.project, takes_s=(40_000.0, 50_000.0)))
    plain, told = (FittingController(one, initial_paces("practised")) for one in (plan, claimed))
    written = told.time.likely_s
    assert written > 1.2 * plain.time.likely_s
    for _ in range(12):
        told.more(1)
    assert told.time.likely_s > 3 * written


def test_on_the_plan_a_wrist_or_a_length_is_met_and_bad_wishes_change_nothing(
    workshop: Workshop,
) -> None:
    wishing = FittingController(workshop.plan("tide-band"))
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


def test_a_piece_under_way_is_read_once_and_gone_on_with(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown: list[OnBench] = []
    read: list[int] = []

    class Reading(Workshop):
        def open(self, piece_id: int) -> OnBench:
            read.append(piece_id)
            return super().open(piece_id)

    def show(on_bench: OnBench, **_: object) -> int:
        shown.append(on_bench)
        return 0

    monkeypatch.setattr(coach.tui.app, "run_bench", show)
    options = parse_call(["knot", "reed-keyring"])[1]
    with Store(tmp_path / "coach.db") as store:
        monkeypatch.setattr(knot, "workshop_of_maker", lambda *_: Reading(store, SystemClock()))
        for _ in range(2):
            assert knot._run(store, options, plain=False) == 0
        begun, again = shown
        assert again.sitting.piece_id == begun.sitting.piece_id
        assert read == [begun.sitting.piece_id]
