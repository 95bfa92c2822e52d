"""A piece is read, compiled and measured once for all that its opening shows."""

from collections import Counter
from pathlib import Path

import pytest

from coach.cli.commands.knot import open_or_begin
from coach.cli.registry import parse_call
from coach.cli.workshop.workshop import Workshop
from coach.piece import Sitting, Store, SystemClock
from coach.piece.storage import store as store_room
from coach.plan.compile.walker import Unfolding
from coach.plan.measure.measuring_pass import Measuring
from coach.session.adjusting.fitting import FittingController
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.ports import OnBench

pytestmark = pytest.mark.usefixtures("compiled_anew")
SEARCHED = 2  # plans that are compiled to find the repeats that a file itself wishes for
TURNS = 3  # of learning from measures, each by the slopes of a plan of its own


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    return Workshop(Store(tmp_path / "coach.db"), SystemClock())


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """Count projects compiled, plans measured and pieces read, wherever that is asked for."""
    counts: Counter[str] = Counter()
    for owner, name, what in (
        (Unfolding, "walk_work", "compiled"),
        (Measuring, "all", "measured"),
        (store_room.Store, "folded", "read"),
    ):
        whole = getattr(owner, name)

        def once_more(self: object, *args: object, whole=whole, what=what) -> object:  # noqa: ANN001
            counts[what] += 1
            return whole(self, *args)

        monkeypatch.setattr(owner, name, once_more)
    return counts


def shown(on_bench: OnBench) -> BenchController:
    """Show a piece as the bench does: the work as it stands, with its cords, and again after."""
    work = BenchController.on(on_bench, SystemClock(), Keys())
    work.view()
    work.cords()
    return work


def passes(work: BenchController) -> int:
    """Return how many passes measure a plan and how it changes with each of its cords."""
    return 1 + len({strand.cord for strand in work.plan.strands})


def test_a_piece_under_way(workshop: Workshop, counted: Counter[str]) -> None:
    workshop.begin("tide-band").sitting.count(30)
    counted.clear()
    on_bench = workshop.unfinished("tide-band")
    assert on_bench
    work = shown(on_bench)
    assert counted == {"compiled": 1, "measured": passes(work), "read": 1}


def test_a_fitted_start_on_the_command_line(workshop: Workshop, counted: Counter[str]) -> None:
    """As the file has it, to be sure that it is sound, and as it is wished for."""
    on_bench = open_or_begin(workshop, parse_call(["knot", "tide-band", "--repeats", "wave=8"])[1])
    assert on_bench.plan.repeats["wave"] == 8
    assert counted["compiled"] == SEARCHED + 2
    measured = counted["measured"]
    work = shown(on_bench)
    assert counted["compiled"] == SEARCHED + 2
    assert counted["measured"] - measured == passes(work)


def test_a_fitted_start_from_the_list(workshop: Workshop, counted: Counter[str]) -> None:
    """Each wish is compiled when it is uttered, and not again when the piece is begun."""
    wishing = FittingController(workshop.plan("tide-band"))
    wishing.more(1)
    wishing.more(1)
    assert counted["compiled"] == SEARCHED + 3
    on_bench = workshop.begin("tide-band", wishing.wish, plan=wishing.plan)
    assert on_bench.sitting.state.total == wishing.plan.total
    measured = counted["measured"]
    work = shown(on_bench)
    assert counted["compiled"] == SEARCHED + 3
    assert counted["measured"] - measured == passes(work)


def test_a_file_that_was_edited_while_it_was_fitted_is_read_anew(
    workshop: Workshop, tmp_path: Path, counted: Counter[str]
) -> None:
    """The plan that was shown belongs to the text before; the piece keeps the text and its plan."""
    file = tmp_path / "belt.yaml"
    shipped = (Path(__file__).parents[2] / "projects" / "tide-band.yaml").read_text()
    file.write_text(shipped)
    wishing = FittingController(workshop.plan(str(file)))
    wishing.more(1)
    file.write_text(shipped.replace("title: ", "title: New ", 1))
    on_bench = workshop.begin(str(file), wishing.wish, plan=wishing.plan)
    assert on_bench.plan is not wishing.plan
    assert on_bench.plan.project.title.startswith("New ")
    assert workshop.open(on_bench.sitting.piece_id).plan.counts == on_bench.plan.counts
    assert counted["compiled"] == 2 * SEARCHED + 2 + 2 + 2


def test_one_resumed_with_measures(workshop: Workshop, counted: Counter[str]) -> None:
    """Its project and what it was fitted to; each turn of learning measures a plan of its own."""
    wishing = FittingController(workshop.plan("tide-band"))
    wishing.more(1)
    begun = workshop.begin("tide-band", wishing.wish, plan=wishing.plan)
    work = shown(begun)
    begun.sitting.count(30)
    left = next(left for left in work.anew().cords() if left.strand == 0)
    told = work.anew().otherwise().rest(0, f"{left.now_mm:.0f} mm")
    assert told.endswith("left.")
    counted.clear()
    work = work.anew()
    work.view()
    assert counted["compiled"] == 0
    assert counted["measured"] == TURNS * passes(work), "the plan itself is measured by now"
    counted.clear()
    work = shown(workshop.open(begun.sitting.piece_id))
    assert counted == {"compiled": 2, "measured": (1 + TURNS) * passes(work), "read": 1}


def test_one_resumed_with_other_repeats(workshop: Workshop, counted: Counter[str]) -> None:
    """The project as it was begun and as it is now."""
    begun = workshop.begin("tide-band")
    begun.sitting.count(5)
    assert "wave" in shown(begun).otherwise().repeats(1)
    counted.clear()
    work = shown(workshop.open(begun.sitting.piece_id))
    assert work.plan.total == begun.sitting.refresh().total
    assert counted["compiled"] == 2
    again = passes(work)  # what was cut, and how sure it was, goes by the plan it began with
    assert counted["measured"] == passes(work) + again


def test_a_sitting_reads_nothing_that_was_read(workshop: Workshop, counted: Counter[str]) -> None:
    begun = workshop.begin("tide-band")
    begun.sitting.count(5)
    counted.clear()
    again = workshop.open(1).sitting
    assert counted["read"] == 1
    assert isinstance(again, Sitting)
    assert again.events[: len(begun.sitting.events)] == begun.sitting.events
