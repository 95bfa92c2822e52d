"""What a maker's pieces have taught is used wherever a piece of hers is told or drawn."""

import json
import re
from collections.abc import Callable
from pathlib import Path
from shutil import copytree

import pytest

from coach.cli.commands.knot import open_or_begin
from coach.cli.main import main
from coach.cli.registry import parse_call
from coach.cli.workshop.workshop import Workshop
from coach.piece import Store, SystemClock, folders
from coach.plan.cord.cut_list import cut_list
from coach.plan.plan_model import Plan
from coach.quantities import show_cut
from coach.session.controller import BenchController
from coach.session.keymap import Keys

HOME = Path(__file__).parents[2] / "projects"
BAND = "tide-band"
Said = Callable[..., str]


@pytest.fixture(scope="module")
def worked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a home in which one band was worked by hands that take a fifth more cord."""
    home = tmp_path_factory.mktemp("worked")
    with pytest.MonkeyPatch.context() as here, Store(database_in(home)) as store:
        here.setenv("COACH_HOME", str(home))
        work_a_band(Workshop(store, SystemClock()))
    return home


def database_in(home: Path) -> Path:
    return folders({"COACH_HOME": str(home)}).database


def work_a_band(workshop: Workshop) -> None:
    begun = workshop.begin(BAND, name="The loose one")
    begun.sitting.count(begun.plan.total - 40)
    for strand in (0, 3):
        work = BenchController.on(begun, SystemClock(), Keys())
        at = begun.sitting.state.done
        cut = next(left for left in work.cords() if left.strand == strand).now_mm
        more = 0.2 * work.plan.used_mm(strand, at)
        work.otherwise().rest(strand, f"{cut - more:.0f} mm")


@pytest.fixture
def workshop(worked: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Workshop:
    """Return the workshop in a copy of that home."""
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    copytree(worked, tmp_path, dirs_exist_ok=True)
    return Workshop(Store(database_in(tmp_path)), SystemClock())


@pytest.fixture
def said(capsys: pytest.CaptureFixture[str]) -> Said:
    """Return what a command prints."""

    def printed(*call: str) -> str:
        capsys.readouterr()
        assert main(list(call)) == 0
        return capsys.readouterr().out

    return printed


def cords_of(plan: Plan) -> dict[str, float]:
    return {cord.cord: cord.total_mm for cord in cut_list(plan)}


def told(said: Said, *call: str) -> dict[str, float]:
    return {c["id"]: c["total_mm"] for c in json.loads(said("plan", *call, "--json"))["cords"]}


@pytest.mark.parametrize(
    "wish",
    [(), ("--length", "20 cm"), ("--cord", "1.5mm"), ("--repeats", "wave=8")],
    ids=" ".join,
)
def test_the_bench_and_the_plan_say_the_same_metres_for_the_next_piece(
    workshop: Workshop, said: Said, wish: tuple[str, ...]
) -> None:
    """Today the bench said 11.05 m and the plan 7.425 m for the same next belt."""
    shown = told(said, BAND, *wish)
    long_mm = json.loads(said("plan", BAND, *wish, "--json"))["length_mm"]
    next_one = open_or_begin(workshop, parse_call(["knot", BAND, "--again", *wish])[1]).plan
    assert shown == pytest.approx(cords_of(next_one))
    assert long_mm == pytest.approx(next_one.length_mm, abs=0.05)


def test_without_what_was_learnt_the_plan_is_any_makers(workshop: Workshop, said: Said) -> None:
    learnt, untaught = told(said, BAND), told(said, BAND, "--untaught")
    assert learnt != untaught
    assert "‘The loose one’" in said("plan", BAND)
    assert "‘The loose one’" not in said("plan", BAND, "--untaught")
    del workshop


@pytest.mark.parametrize("verb", ["words", "card", "picture", "quote"])
def test_every_page_is_in_the_same_hands(workshop: Workshop, said: Said, verb: str) -> None:
    assert said(verb, BAND) != said(verb, BAND, "--untaught")
    del workshop


@pytest.mark.parametrize("verb", ["words", "card"])
def test_a_printed_page_has_the_lengths_of_the_plan(
    workshop: Workshop, said: Said, verb: str
) -> None:
    cords = json.loads(said("plan", BAND, "--json"))["cords"]
    lengths = [show_cut(cord["cut_mm"]) for cord in cords]
    page = said(verb, BAND)
    assert all(length in page for length in lengths)
    del workshop


def test_a_piece_is_told_by_its_name_as_it_went_on(workshop: Workshop, said: Said) -> None:
    """Its own repeats and measures included."""
    piece = workshop.open(next(p.id for p in workshop.pieces() if p.name == "The loose one"))
    work = BenchController.on(piece, SystemClock(), Keys())
    assert told(said, "the loose one") == pytest.approx(cords_of(work.plan))
    assert said("words", "The loose one")
    assert main(["plan", "The loose one", "--length", "30 cm"]) == 2
    assert main(["plan", "Nobody's"]) == 2


def test_pieces_that_cannot_be_read_are_told_and_left_out(
    workshop: Workshop, said: Said, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    del workshop
    plain = told(said, BAND, "--untaught")
    database_in(tmp_path).write_bytes(b"no pieces at all" * 500)
    assert main(["plan", BAND, "--json"]) == 0
    out, err = capsys.readouterr()
    assert "What your pieces have taught is left out." in err
    assert {c["id"]: c["total_mm"] for c in json.loads(out)["cords"]} == plain


def test_a_colourway_is_worn_everywhere(said: Said) -> None:
    own, dusk = (said("plan", "reed-keyring", *way) for way in ((), ("--colourway", "dusk")))
    assert own != dusk
    assert said("picture", "reed-keyring") != said("picture", "reed-keyring", "--colourway", "Dusk")
    assert main(["card", "reed-keyring", "--colourway", "noon"]) == 2


@pytest.mark.parametrize("verb", ["words", "card"])
@pytest.mark.parametrize("project", ["reed-keyring", "marsh-pot-hanger", BAND])
def test_a_printed_page_is_in_one_unit(
    said: Said, verb: str, project: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The file's own words stay as they are written."""
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    printed = said(verb, project, "--units", "in")
    page = re.sub(r"<style>.*?</style>|<svg.*?</svg>|<[^>]+>", " ", printed, flags=re.DOTALL)
    own = (HOME / f"{project}.yaml").read_text(encoding="utf-8")
    assert re.search(r"\d in\b", page)
    metric = set(re.findall(r"\d[\d.]* (?:cm|m)\b", page))
    assert not [length for length in metric if length not in own]
