"""A piece knotted without a pattern: kept sentence by sentence, left, come back to, written out."""

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from command_line import coach

from coach.cli.project_finder import shipped_projects
from coach.cli.workshop.freehand_files import FILES, freehand_source
from coach.cli.workshop.workshop import Workshop
from coach.piece import Store, SystemClock, find_unfinished
from coach.piece.export_import import export_piece, from_text, take_in_piece
from coach.plan.board_at_count import order_at
from coach.plan.compile.compiler import compile_project
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.plan.tension import NOMINAL
from coach.project.model import Choice
from coach.project.read import read_project
from coach.recording.project_cutting import cut_off
from coach.recording.project_text import StartingCords
from coach.recording.record import new_recording, tied
from coach.recording.sentence_check import after_sentence
from coach.recording.yaml_nodes import CannotCut
from coach.session.by_sentence.freehand import Freehand
from coach.session.by_sentence.freehand_questions import FreehandQuestion, ask_file, ask_start
from coach.session.ports import CannotOpen
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.list_lines import piece_detail, piece_row
from coach.tui.theme.palette import DARK

HUNG = StartingCords(
    {"reed": "{diameter: 2 mm}", "clay": "{diameter: 2 mm}"}, "{hang: [2 reed, clay]}"
)


@pytest.fixture
def desk(tmp_path: Path) -> Workshop:
    return Workshop(Store(tmp_path / "coach.db"), SystemClock())


def answered(asking: object, *answers: str) -> tuple[str | object, list[str]]:
    """Answer questions in turn; return what came of it, and what was asked."""
    asked: list[str] = []
    question: FreehandQuestion = next(asking)  # type: ignore[call-overload]
    for answer in answers:
        asked.append(f"{question.trouble} {question.asks}".strip())
        try:
            question = asking.send(answer)  # type: ignore[attr-defined]
        except StopIteration as over:
            return over.value, asked
    raise AssertionError(question)


def test_what_is_said_is_kept_at_once_and_come_back_to_line_by_line(
    desk: Workshop, tmp_path: Path
) -> None:
    """Another store on the same file sees each line before anything is left or closed."""
    freehand = Freehand(desk.begin_freehand(new_recording(HUNG), str(tmp_path / "band.yaml")))
    said = ("row 1 to 6", "row 6 to 1", "row 1 to 6", "row 6 to 1", "gap 1 cm", "unpick",
            "the last 2 steps, twice", "note Mind the edge.", "call it Sea band")  # fmt: skip
    for number, sentence in enumerate(said, start=1):
        freehand.say(sentence)
        other = Workshop(Store(tmp_path / "coach.db"), SystemClock())
        piece = other.freehand_under_way(str(tmp_path / "band.yaml"))
        assert piece
        assert (piece.done, piece.total) == (freehand.made, freehand.made + 1), number
        back = Freehand(other.open(piece.id))
        assert back.record == freehand.record
        assert back.lines() == freehand.lines()
    assert [line.said for line in freehand.lines()][-1] == "the last 2 steps, twice"
    assert freehand.lines()[-1].steps == 4
    assert freehand.so_far().startswith("8 steps, 40 ties, about ")
    assert freehand.say("row 1 to 7").startswith("There is no position 7")
    assert freehand.say("x" * 300).startswith("That is 300 letters")
    assert freehand.made == 40


def test_what_came_of_a_sentence_is_told(desk: Workshop) -> None:
    freehand = Freehand(desk.begin_freehand(new_recording(HUNG)))
    assert freehand.say("row 1 to 6") == "5 clove hitches."
    assert freehand.say("row 6 to 1") == "5 clove hitches."
    told = freehand.say("row 1 to 6")
    assert (
        told == "5 clove hitches. The last step 3 times over, mirrored every second time: a repeat."
    )
    assert freehand.say("gap 1 cm") == "Done."
    assert freehand.say("unpick 2 steps") == "Unpicked 2 steps, 6 counts."
    assert freehand.say("finished").startswith("Finished: 2 steps, 10 ties")
    assert freehand.sitting.state.finished
    assert freehand.say("again") == "5 clove hitches."
    assert not freehand.sitting.state.finished
    assert "row 1 to 6" in freehand.completions("ro")
    assert "gathering knot of reed round all, 3 cm" in freehand.completions("gath")


def test_the_pattern_is_written_with_names_and_made_again(desk: Workshop, tmp_path: Path) -> None:
    freehand = Freehand(desk.begin_freehand(new_recording(HUNG)))
    target = tmp_path / "band.yaml"
    with pytest.raises(StopIteration, match="so there is nothing to write"):
        next(ask_file(freehand, FILES, str(target)))
    for sentence in ("row 1 to 6", "square knots 2-5", "the last 2 steps, twice", "gap 1 cm"):
        freehand.say(sentence)
    told, asked = answered(
        ask_file(freehand, FILES, str(target)), "Wave: band", "wave", str(tmp_path / "no" / "x"), ""
    )
    assert told == f"{target} is written. `coach knot band.yaml` makes it again."
    part = "‘row clove hitch, holder 1, across 2-6’ and 1 more, made 3 times"
    assert asked[1] == f"{part}: what is this part called?"
    assert asked[3].startswith(f"{tmp_path / 'no' / 'x'} cannot be written")
    plan = read_plan(target.read_text("utf-8")).plan
    assert plan
    assert plan.project.title == "Wave: band"
    assert list(plan.project.parts) == ["wave"]
    assert tied(plan)[0] == tied(freehand.plan)[0][:-1]
    _, asked = answered(ask_file(freehand, FILES, str(target)), "", "", "", "no", "", "yes")
    assert asked[3] == f"{target} is there already. Write over it?"
    opened = desk.begin(str(target))
    assert not opened.freehand
    assert opened.plan.total == freehand.made


def test_what_hangs_is_asked_until_it_can_hang() -> None:
    record, asked = answered(
        ask_start(), "{2}", "2 reed, 4 clay", "thick", "2 mm, green", "3 mm", "moon", "ring",
        "together", "", "Reed mat",
    )  # fmt: skip
    assert record.plan.project.cords["reed"].colour_name == "green"  # type: ignore[attr-defined]
    assert len(record.plan.start) == 12  # type: ignore[attr-defined]
    assert record.plan.project.title == "Reed mat"  # type: ignore[attr-defined]
    assert "does not say how many of which cord" in asked[1]
    assert asked[3].startswith("Begin with the thickness")
    assert asked[6].startswith("‘moon’ is none of these")


def test_a_freehand_piece_goes_to_another_machine(desk: Workshop, tmp_path: Path) -> None:
    opened = desk.begin_freehand(new_recording(HUNG))
    freehand = Freehand(opened)
    freehand.say("row 1 to 6")
    text = export_piece(desk._store, opened.sitting.piece_id)
    other = Workshop(Store(tmp_path / "other.db"), SystemClock())
    take_in_piece(other._store, from_text(text))
    piece = find_unfinished(other._store, freehand_source(""))
    assert piece
    assert Freehand(other.open(piece.id)).record == freehand.record


def made(plan: Plan, done: int) -> tuple[object, ...]:
    ids = [strand.id for strand in plan.strands]
    hands = [(c.knot, [ids[s] for s in (*c.knotters, *c.fillers)]) for c in plan.counts[:done]]
    return hands, [ids[s] for s in order_at(plan, done)]


@pytest.mark.parametrize("path", shipped_projects(), ids=lambda path: path.stem)
def test_a_pattern_can_be_left_at_any_count_and_what_was_made_stays(path: Path) -> None:
    """Within rows, repeats, mirrored repeats, groups and nets; the next steps go on from there."""
    text = path.read_text("utf-8")
    plan = read_plan(text).plan
    assert plan
    places = {plan.total * part // 13 for part in range(14)} if plan.finish else ()
    for done in places:
        step = plan.step_at(done)
        aside = step and (step.unfolded or step.section or step.frame.name in plan.project.apart)
        if aside:
            with pytest.raises(CannotCut, match="Finish what"):
                cut_off(text, plan, done)
            continue
        record = after_sentence(new_recording(None, cut_off(text, plan, done)), "overhand knot all")
        after = record.plan
        assert after
        assert made(after, done) == made(plan, done)
        again = read_plan(record.text()).plan
        assert again
        assert made(again, done) == made(plan, done)
        assert again.total == done + 1


def test_what_was_chosen_at_the_bench_stays_as_it_was_made() -> None:
    """In a step, in a part that is repeated alike, and for the strand that was the longest."""
    text = """\
coach: 1
title: Open
cords: {reed: {diameter: 2 mm}}
start: {hang: [3 reed]}
work:
  - {knot: half knot, strands: 1-4, times: about 6}
  - {use: wave, times: 3}
  - {knot: half hitch, knotter: longest, strands: 1-3}
  - {space: about 3 cm}
parts:
  wave:
    - {row: clove hitch, holder: 1, across: 2-6}
    - {knot: half knot, strands: 1-4, times: 2 or more}
"""
    project = read_project(text).project
    assert project
    times = {0: 9.0, 1: 4.0, 2: 4.0, 3: 4.0}
    chosen = {at: Choice("times", value) for at, value in times.items()}
    chosen |= {4: Choice("knotter", 2), 5: Choice("length", 50)}
    plan = compile_project(replace(project, chosen=chosen), NOMINAL).plan
    assert plan
    for done in range(plan.total + 1):
        cut = read_plan(cut_off(text, plan, done)).plan
        assert cut
        assert made(cut, done) == made(plan, done), done
    assert "space: 50 mm" in cut_off(text, plan, plan.total)
    other = compile_project(replace(project, chosen=chosen | {2: Choice("times", 5)}), NOMINAL).plan
    assert other
    with pytest.raises(CannotCut, match="made differently"):
        cut_off(text, other, other.total)


def test_the_longest_is_who_it_was_when_it_was_said() -> None:
    record = after_sentence(new_recording(HUNG), "half hitch by the longest of 1-3, twice")
    (block,) = record.blocks
    assert "longest" not in block.steps[0]
    assert block.said == "half hitch by the longest of 1-3, twice"


def test_a_piece_goes_on_without_its_pattern_and_keeps_its_count(desk: Workshop) -> None:
    opened = desk.begin("reed-keyring")
    opened.sitting.count(7)
    opened.sitting.leave()
    without = desk.open(opened.sitting.piece_id).without_pattern
    assert without
    gone_on = without()
    assert gone_on.freehand
    freehand = Freehand(gone_on)
    assert freehand.made == 7
    freehand.say("overhand knot all")
    assert freehand.made == 8
    back = desk.open(opened.sitting.piece_id)
    assert (back.freehand, back.edited, back.target) == (True, None, "reed-keyring-my-own.yaml")
    assert Freehand(back).made == 8


def test_what_is_made_apart_is_finished_before_the_pattern_is_left(desk: Workshop) -> None:
    opened = desk.begin("cockle-net-bag")
    opened.sitting.count(3)
    without = desk.open(opened.sitting.piece_id).without_pattern
    assert without
    with pytest.raises(CannotOpen, match="Finish what is made by itself"):
        without()


def test_a_piece_is_knotted_left_and_gone_on_with_in_plain_lines(tmp_path: Path) -> None:
    lines = "2 reed, clay\n\n\nring\n\n\n\nrow 1 to 6\nagain\nrow 1 to 9\nsqu?\n"
    home = {"COACH_HOME": str(tmp_path / "home")}
    new = ("knot", "--new", "band.yaml")
    done = coach(*new, typed=lines, cwd=tmp_path, environment=home)  # it ends unasked
    assert (done.returncode, done.stderr) == (0, "")
    assert "There is no position" in done.stdout
    assert "square knots 1-4, 5-8, three times" in done.stdout
    assert not (tmp_path / "band.yaml").exists()
    lines = "unpick\nplait 1-3, 4 cm\nagain\nw\n\n\n\n\ntrim all to 2 cm\nq\n"
    done = coach(*new, typed=lines, cwd=tmp_path, environment=home)
    assert (done.returncode, done.stderr) == (0, "")
    assert "2 steps, 10 ties" in done.stdout
    after = read_plan((tmp_path / "band.yaml").read_text("utf-8")).plan
    assert after
    assert after.total == 7
    assert coach("check", "band.yaml", cwd=tmp_path).returncode == 0


def test_two_windows_on_one_piece_follow_each_other(desk: Workshop, tmp_path: Path) -> None:
    """What one says the other takes in before it says its own."""
    opened = desk.begin_freehand(new_recording(HUNG))
    one = Freehand(opened)
    other = Freehand(
        Workshop(Store(tmp_path / "coach.db"), SystemClock()).open(opened.sitting.piece_id)
    )
    assert one.say("row 1 to 6") == "5 clove hitches."
    assert other.say("again") == "5 clove hitches."
    assert other.made == 10
    assert one.refresh()
    assert one.record == other.record
    assert not one.refresh()


def test_a_piece_that_nobody_knows_the_end_of_says_what_is_made(desk: Workshop) -> None:
    freehand = Freehand(desk.begin_freehand(new_recording(HUNG)))
    freehand.say("row 1 to 6")
    (piece,) = desk.pieces()
    assert piece.open_ended
    inks = Inks(DARK)
    assert piece_row(piece, 40, inks).plain.split()[-2:] == ["5", "made"]
    assert "5 made." in [line.plain for line in piece_detail(piece, inks, 40)]
    freehand.say("finished")
    (piece,) = desk.pieces()
    assert piece.finished
    assert not piece.open_ended


def test_no_two_lines_are_the_same_number(desk: Workshop) -> None:
    freehand = Freehand(desk.begin_freehand(new_recording(HUNG)))
    for _ in range(3):
        freehand.say("again" if freehand.made else "row 1 to 6")
    lines = freehand.lines()
    assert all(one is not other for one, other in pairwise(lines))
    assert [line.said for line in lines] == ["row 1 to 6", "again", "again"]
