"""The list: what is under way and can be begun, the marked one beside it, what is done to it."""

from pathlib import Path

import pytest
from bench_pieces import Clock
from test_bench_screens import Bench, run

from coach.cli.workshop.put_away import PutAwayPieces
from coach.cli.workshop.workshop import Workshop
from coach.piece import NameTaken, Store, Summary
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.ports import ProjectOffer
from coach.tui.app import BenchApp
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.home_entries import HomeListing
from coach.tui.pages.list_lines import easiest_first, matches
from coach.tui.screens.home_screen import ListScreen
from coach.tui.screens.work_screen import WorkScreen
from coach.tui.theme.palette import DARK


def desk(folder: Path, clock: Clock) -> Workshop:
    return Workshop(Store(folder / "coach.db"), clock, drawer=PutAwayPieces(folder))


def begun(folder: Path, clock: Clock, **counts: int) -> Workshop:
    """Return a desk with a piece of each project, by its name with underscores, so far counted."""
    made = desk(folder, clock)
    for name, count in counts.items():
        clock.ms += 1000
        opened = made.begin(name.replace("_", "-"))
        if count:
            opened.sitting.count(count)
        opened.sitting.leave()
    return made


async def rest(seen: Bench) -> None:
    """Wait until what is marked is told of."""
    await seen.pilot.pause(0.2)


def test_a_first_evening_starts_on_the_easiest_project_and_tells_of_it(tmp_path: Path) -> None:
    """Enter, enter, and it is on the bench."""
    clock = Clock()
    app = BenchApp(shelf=desk(tmp_path, clock), clock=clock)

    async def drive(seen: Bench) -> None:
        await rest(seen)
        shown = seen.text()
        assert "Welcome. Enter opens the first one." in shown
        assert "start here" in shown
        assert "> Reed keyring" in shown
        for told in ("level", "Beginner", "time", "min", "size", "have ready", "cord"):
            assert told in shown, told
        assert "On the bench" not in shown
        await seen.press("enter", "enter")
        assert isinstance(app.screen, WorkScreen)
        assert app.work
        assert app.work.sitting.name == "Reed keyring"

    run(app, clock, drive, (100, 30))


def test_only_the_easiest_is_for_a_first_evening_whatever_is_typed() -> None:
    listed = HomeListing(
        projects=[ProjectOffer("a", "Wave", total=2), ProjectOffer("b", "Reed", skill="beginner")]
    )
    inks = Inks(DARK)
    for typed, marked in (("", 1), ("reed", 1), ("wave", 0)):
        shown = listed.entries(typed, 50, inks, unfolded=False)
        assert sum("start here" in entry.line.plain for entry in shown) == marked, typed


def test_the_easiest_comes_first_and_of_these_the_shortest() -> None:
    offers = [
        ProjectOffer("a", "A", skill="advanced", total=5),
        ProjectOffer("b", "B", skill="beginner", total=90),
        ProjectOffer("c", "C", skill="beginner", total=20),
        ProjectOffer("d", "D", total=1),
    ]
    assert [offer.key for offer in easiest_first(offers)] == ["c", "b", "a", "d"]


@pytest.mark.parametrize("size", [(40, 12), (60, 20), (80, 24), (120, 40), (200, 50)])
def test_nothing_on_the_list_is_cut_that_is_needed_to_choose(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    clock = Clock()
    app = BenchApp(shelf=begun(tmp_path, clock, tide_band=3), clock=clock)

    async def drive(seen: Bench) -> None:
        await rest(seen)
        shown = seen.text()
        assert "3 of 283" in shown
        assert "Tide band" in shown
        if size[1] >= 20:
            assert "intermediate" in shown
            assert "Strandline sampler" in shown
        assert "q leave" in shown

    run(app, clock, drive, size)


def test_the_list_narrows_as_one_types_and_escape_shows_all_again(tmp_path: Path) -> None:
    clock = Clock()
    app = BenchApp(shelf=begun(tmp_path, clock, tide_band=3, reed_keyring=27), clock=clock)

    async def drive(seen: Bench) -> None:
        await rest(seen)
        assert "show 1 piece" in seen.text(), "the finished one is folded away"
        await seen.press("r", "e", "e", "d", "space", "k")
        await rest(seen)
        assert "Find: reed k" in seen.text()
        assert "Tide band" not in seen.text()
        assert "finished" in seen.text(), "it is found all the same"
        await seen.press("backspace", "escape")
        assert "Find" not in seen.text()
        assert "Tide band" in seen.text()
        await seen.press("z", "z", "z")
        assert "Find: zzz. Nothing is called that." in seen.text()
        assert "level" not in seen.text(), "nothing is marked, and nothing is told of"
        await seen.press("enter", "escape", "escape")
        assert isinstance(app.screen, ListScreen)
        assert app.is_running

    run(app, clock, drive, (80, 24))


def test_a_key_tells_what_the_keys_of_the_list_do(tmp_path: Path) -> None:
    clock = Clock()
    app = BenchApp(shelf=desk(tmp_path, clock), clock=clock)

    async def drive(seen: Bench) -> None:
        assert "? help" in seen.text()
        await seen.press("question_mark")
        shown = " ".join(seen.text().split())
        assert "Narrow the list: just type." in shown
        assert "Rename, copy, put away or delete a piece." in shown
        await seen.press("escape")
        assert isinstance(app.screen, ListScreen)
        await seen.press("a", "question_mark")
        assert "Find: a?" in seen.text()

    run(app, clock, drive, (40, 24))


def test_words_match_in_any_order_and_case() -> None:
    assert matches("BAND tide", "Tide band")
    assert not matches("band x", "Tide band")
    assert matches("", "anything")


def test_finished_pieces_are_unfolded_with_enter(tmp_path: Path) -> None:
    clock = Clock()
    app = BenchApp(shelf=begun(tmp_path, clock, reed_keyring=27), clock=clock)

    async def drive(seen: Bench) -> None:
        await rest(seen)
        assert "> Reed keyring" in seen.text(), "what can be begun comes first"
        await seen.press("up")
        assert "> show 1 piece" in seen.text()
        await seen.press("enter")
        assert "hide them" in seen.text()
        assert "finished" in seen.text()

    run(app, clock, drive, (80, 24))


def test_a_piece_is_called_otherwise_put_away_and_taken_out_again(tmp_path: Path) -> None:
    clock = Clock()
    made = begun(tmp_path, clock, tide_band=3)
    app = BenchApp(shelf=made, clock=clock)

    async def drive(seen: Bench) -> None:
        await rest(seen)
        await seen.press("slash")
        await seen.press(*"Ida", "enter")
        assert "Now called Ida." in seen.text()
        assert made.pieces()[0].name == "Ida"
        await seen.press("slash", "down", "down", "enter")
        assert "Ida is put away." in seen.text()
        assert made.away() == {made.pieces()[0].id}
        assert "On the bench" not in seen.text()
        await seen.press("up", "enter", "down")
        await seen.press("slash", "down", "down", "enter")
        assert made.away() == set()

    run(app, clock, drive, (80, 24))
    assert desk(tmp_path, clock).away() == set()


def test_what_is_put_away_stays_away_the_next_time(tmp_path: Path) -> None:
    clock = Clock()
    made = begun(tmp_path, clock, tide_band=3)
    piece = made.pieces()[0].id
    made.put_away(piece, away=True)
    assert desk(tmp_path, clock).away() == {piece}


def test_a_piece_is_deleted_only_when_that_is_written_and_comes_back(tmp_path: Path) -> None:
    clock = Clock()
    made = begun(tmp_path, clock, tide_band=3)
    before = made.open(made.pieces()[0].id).sitting.state.done
    app = BenchApp(shelf=made, clock=clock)

    async def drive(seen: Bench) -> None:
        await rest(seen)
        await seen.press("slash", "up", "enter")
        assert "write the word delete" in seen.text()
        assert len(made.pieces()) == 1
        await seen.press(*"delete", "enter")
        assert made.pieces() == []
        assert "/ brings it back" in seen.text()
        await seen.press("slash")
        assert "bring Tide band back" in seen.text()
        await seen.press("enter")
        assert [piece.done for piece in made.pieces()] == [before] == [3]

    run(app, clock, drive, (80, 24))


def test_another_of_a_piece_is_begun_beside_it(tmp_path: Path) -> None:
    clock = Clock()
    made = begun(tmp_path, clock, tide_band=3)
    app = BenchApp(shelf=made, clock=clock)

    async def drive(seen: Bench) -> None:
        await rest(seen)
        await seen.press("slash", "down", "enter")
        await rest(seen)
        assert isinstance(app.screen, WorkScreen)
        assert sorted(piece.done for piece in made.pieces()) == [0, 3]

    run(app, clock, drive, (80, 24))


def test_a_name_that_is_taken_changes_nothing(tmp_path: Path) -> None:
    clock = Clock()
    made = begun(tmp_path, clock, tide_band=3, reed_keyring=1)
    with pytest.raises(NameTaken):
        made.rename(made.pieces()[0].id, " TIDE  band ")
    assert {piece.name for piece in made.pieces()} == {"Tide band", "Reed keyring"}
    made.rename(made.pieces()[0].id, "Reed Keyring")
    assert "Reed Keyring" in {piece.name for piece in made.pieces()}


def test_five_hundred_pieces_are_listed_and_narrowed_at_once(tmp_path: Path) -> None:
    """Counted in lines that are written, not in time: only those that are seen, at each letter."""
    clock = Clock()
    written: list[int] = []

    class Many(Workshop):
        def pieces(self) -> list[Summary]:
            return [
                Summary(n, f"Reed strap {n}", "", "", 9 if n % 2 else 3, 9, 0, clock.ms)
                for n in range(500)
            ]

    class Counted(ListScreen):
        def _written(self, entry):  # noqa: ANN001, ANN202
            written.append(1)
            return super()._written(entry)

    shelf = Many(Store(tmp_path / "coach.db"), clock)
    screen = Counted(Inks(DARK))
    app = BenchApp(clock=clock)

    async def drive(seen: Bench) -> None:
        app.push_screen(screen)
        await seen.pilot.pause()
        screen.offer(shelf.pieces(), [ProjectOffer("strap", "Strap")])
        await seen.pilot.pause()
        assert 0 < len(written) < 24
        written.clear()
        await seen.press("4", "9", "9")
        assert "Reed strap 499" in seen.text()
        assert len(written) < 3 * 24

    run(app, clock, drive, (80, 24))


def test_another_like_a_piece_has_its_measures_and_its_repeats(tmp_path: Path) -> None:
    """Fitted to a length when it was begun, and one repeat more on the bench."""
    clock = Clock()
    made = desk(tmp_path, clock)
    wishing = made.fitting("tide-band")
    wishing.length("22 cm")
    opened = made.begin("tide-band", wishing.wish, plan=wishing.plan)
    work = BenchController.on(opened, clock, Keys())
    work.otherwise().repeats(1)
    total = work.anew().plan.total
    assert total > opened.plan.total
    opened.sitting.leave()
    again = made.again(opened.sitting.piece_id)
    assert BenchController.on(again, clock, Keys()).plan.total == total
    again.sitting.leave()
    assert BenchController.on(made.open(again.sitting.piece_id), clock, Keys()).plan.total == total


@pytest.mark.parametrize("size", [(1, 1), (40, 2)])
def test_pages_are_turned_where_there_is_no_room_for_any(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    clock = Clock()
    app = BenchApp(shelf=begun(tmp_path, clock, tide_band=3, reed_keyring=2), clock=clock)

    async def drive(seen: Bench) -> None:
        await seen.press("down", "pagedown", "pageup", "pagedown", "pageup")
        assert isinstance(app.screen, ListScreen)
        assert app.is_running

    run(app, clock, drive, size)
