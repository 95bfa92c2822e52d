"""This piece, this size, these colours, so many: asked for in the same words of every command."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from coach.cli.bench_setup import chosen_units
from coach.cli.commands.knot import open_or_begin
from coach.cli.main import main
from coach.cli.options.piece_options import read_requested_piece
from coach.cli.options.size_options import KEEPS
from coach.cli.orders.copies_asked import order_groups, requested_groups
from coach.cli.orders.maker_desk import read_for_maker
from coach.cli.registry import parse_call
from coach.cli.skill_question import skill_set
from coach.cli.workshop.workshop import Workshop
from coach.piece import Store, SystemClock, folders
from coach.plan.cord.cut_list import cut_list
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.ports import CannotOpen

SHOWN, ORDERED = ("plan", "words", "card", "picture"), ("quote", "kit")
SIZES = (
    ("--length", "15 cm"), ("--repeats", "wave=3"), ("--cord", "2mm"), ("--cord", "reed=3 mm"),
)  # fmt: skip
WISHES = (
    (), *SIZES, ("--colourway", "dusk"), ("--copies", "12"),
    ("--length", "15 cm", "--colourway", "foam", "--copies", "3", "--units", "in"),
)  # fmt: skip


@pytest.fixture
def workshop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Workshop]:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    database = folders({"COACH_HOME": str(tmp_path)}).database
    database.parent.mkdir(parents=True)
    with Store(database) as store:
        yield Workshop(store, SystemClock())


def seen(plan: Plan, copies: int, unit: str) -> tuple[object, ...]:
    """Return what of a piece may not differ from command to command."""
    cords = {cord.id: cord.colour for cord in plan.project.cords.values()}
    cut = {cord.cord: cord.total_mm for cord in cut_list(plan)}
    return plan.counts, round(plan.length_mm, 3), cords, cut, copies, unit


def shown_by(command: str, *call: str) -> tuple[object, ...]:
    """Return what a command tells or draws that shows one piece."""
    this = read_requested_piece(parse_call([command, *call])[1], skill_set)
    assert this
    return seen(this.plan, this.copies, this.unit)


def ordered_by(command: str, *call: str) -> tuple[object, ...]:
    """Return what a command reckons with that is about an order of one kind."""
    options = parse_call([command, *call])[1]
    made = read_for_maker(options.project, skill_set)
    assert made
    (group,) = order_groups(
        made.plan, options, requested_groups(options, made.plan), begun=made.begun
    )
    told = seen(group.plan, group.copies, chosen_units(options.units))
    return (*told[:2], dict(group.colours), *told[3:])


@pytest.mark.parametrize("wish", WISHES, ids=" ".join)
def test_every_command_means_the_same_piece_by_the_same_words(
    workshop: Workshop, wish: tuple[str, ...]
) -> None:
    project = "tide-band" if "wave=3" in wish else "reed-keyring"
    piece = shown_by("plan", project, *wish)
    for command in SHOWN[1:]:
        assert shown_by(command, project, *wish) == piece, command
    for command in ORDERED:
        assert ordered_by(command, project, *wish) == piece, command
    alone = [word for word in wish if word not in ("--copies", "12", "3")]
    bench = open_or_begin(workshop, parse_call(["knot", project, *alone])[1]).plan
    assert seen(bench, *piece[-2:]) == piece


@pytest.mark.parametrize("measure", ["--wrist", "--ankle"])
def test_a_measure_of_a_body_is_one_of_them(workshop: Workshop, measure: str) -> None:
    wish = ("tide-band", measure, "19 cm", "--ease", "1 cm")
    piece = shown_by("plan", *wish)
    assert piece != shown_by("plan", "tide-band")
    assert all(shown_by(command, *wish) == piece for command in SHOWN[1:])
    assert all(ordered_by(command, *wish) == piece for command in ORDERED)
    assert seen(open_or_begin(workshop, parse_call(["knot", *wish])[1]).plan, 1, "cm") == piece


def test_a_piece_is_meant_by_its_name_with_all_that_happened_to_it(workshop: Workshop) -> None:
    """Its fit, its own repeats later, its colours and its measures."""
    begun = open_or_begin(
        workshop, parse_call(["knot", "reed-keyring", "--name", "Reed girl", "--cord", "1.5mm"])[1]
    )
    begun.sitting.count(12)
    BenchController.on(begun, SystemClock(), Keys()).otherwise().repeats(1)
    work = BenchController.on(workshop.open(begun.sitting.piece_id), SystemClock(), Keys())
    cut = next(left for left in work.cords() if left.strand == 0).now_mm
    more = 0.2 * work.plan.used_mm(0, 12)
    assert "left." in str(work.otherwise().rest(0, f"{cut - more:.0f} mm"))
    bench = open_or_begin(workshop, parse_call(["knot", "reed girl"])[1])
    learnt = BenchController.on(bench, SystemClock(), Keys()).plan
    assert bench.sitting.piece_id == begun.sitting.piece_id
    call = ("reed girl", "--copies", "12")
    piece = shown_by("plan", *call)
    assert piece == seen(learnt, 12, "cm") != seen(bench.plan, 12, "cm")
    assert all(shown_by(command, *call) == piece for command in SHOWN[1:])
    assert all(ordered_by(command, *call) == piece for command in ORDERED)
    for wish in (SIZES[0], ("--repeats", "ripple=3"), ("--wrist", "17 cm")):
        for refused in (shown_by, ordered_by):
            command = "plan" if refused is shown_by else "quote"
            with pytest.raises(CannotRefit, match="keeps its size"):
                refused(command, "reed girl", *wish)
        with pytest.raises(CannotOpen, match=KEEPS[:30]):
            open_or_begin(workshop, parse_call(["knot", "reed girl", *wish])[1])
    another = open_or_begin(workshop, parse_call(["knot", "reed girl", "--name", "the next"])[1])
    assert (another.sitting.name, another.sitting.state.done) == ("the next", 0)


def test_copies_are_cut_for_together_and_worked_one_by_one(
    workshop: Workshop, capsys: pytest.CaptureFixture[str]
) -> None:
    def said(*call: str) -> str:
        assert main(list(call)) == 0
        return capsys.readouterr().out

    for command in ("words", "card"):
        one, many = (said(command, "reed-keyring", "--copies", n) for n in ("1", "12"))
        for heading in ("Cut for 12", "Hang each of the 12", "Work each of the 12"):
            assert heading in many
            assert heading not in one
        assert one.count("half knot") == many.count("half knot")
        assert "(for each)" in many
    assert "Cut for 12" in said("plan", "reed-keyring", "--copies", "12")
    assert "one of 12" in said("picture", "reed-keyring", "--copies", "12")
    assert "Cut for twelve" in said("words", "reed-keyring", "--copies", "12", "--speak")
    for wrong in ("0", "1001", "dozen", "4 of 12 cm"):
        assert main(["words", "reed-keyring", "--copies", wrong]) == 2
        assert "--copies: Write a number from 1 to 1,000" in capsys.readouterr().err
    del workshop


def test_an_order_is_begun_from_a_project_and_never_ends_in_a_traceback(workshop: Workshop) -> None:
    open_or_begin(workshop, parse_call(["knot", "reed-keyring", "--name", "mine"])[1])
    for name, said in (("mine", "from its project"), ("nothing-such", "no project")):
        with pytest.raises(CannotOpen, match=said):
            open_or_begin(
                workshop, parse_call(["knot", name, "--copies", "3", "--order", "stall"])[1]
            )
