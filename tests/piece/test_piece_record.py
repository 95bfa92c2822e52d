"""What a piece took, what it cost, and what it teaches the next one."""

import csv
import io
import json
from decimal import Decimal
from pathlib import Path

import pytest
from hand_clock import HandClock
from marsh_band import A_RIPPLE, TEXT, band, in_true_hands, strand

from coach.cli import main
from coach.cli.reports.piece_data import gather_piece
from coach.cli.reports.piece_page import pace_plot
from coach.orders import read_prices as reader
from coach.orders.prices import CordPrice, Prices
from coach.pace.estimate import expected_seconds, time_for
from coach.pace.work_amount import ties
from coach.piece import Sitting, Store, look, start_piece
from coach.piece.events import Joined, Measured
from coach.piece.learning.carry_over import PriorLearning, carry_over
from coach.piece.learning.estimates import estimates_of, in_hands
from coach.piece.reports.cord_and_cost import CordAccount, cords, cost
from coach.piece.reports.time_spent import KnotTime, Spell, TimeRecord, record
from coach.piece.state import State
from coach.quantities import cord_amount

BAND = band()
A_METRE = CordPrice(Decimal(1), cord_amount("1 m"))
KNOTS = [count.knot for count in BAND.counts]


def read_prices(text: str) -> Prices:
    """Read prices that are sound."""
    reading = reader.read_prices(text)
    assert not reading.problems
    return reading.prices


def begun(
    store: Store, clock: HandClock, text: str = TEXT, carried: PriorLearning | None = None
) -> Sitting:
    plan = band(text)
    number = start_piece(
        store, clock, title=plan.project.title, project_text=text, source="band",
        total=plan.total, paces=carried.paces if carried else None,
        beliefs=carried.beliefs if carried else None,
    )  # fmt: skip
    return Sitting(store, clock, number, [count.knot for count in plan.counts])


def tied(sitting: Sitting, clock: HandClock, counts: int, seconds: float) -> None:
    for _ in range(counts):
        clock.go_on(seconds)
        sitting.count()


def measured_piece(store: Store, clock: HandClock) -> Sitting:
    """A piece half made at 12 s a tie in two sittings, its length and one rest measured."""
    sitting = begun(store, clock)
    tied(sitting, clock, A_RIPPLE, 12)
    sitting.leave()
    clock.go_on(3600)
    sitting = Sitting(store, clock, sitting.piece_id, KNOTS)
    tied(sitting, clock, 2 * A_RIPPLE, 12)
    truth, now, done = in_true_hands(BAND, 0.86, 0.04), estimates_of(BAND, ()), 3 * A_RIPPLE
    number = strand(BAND, "reed.1a")
    left = now.rests[number].length_mm - truth.used_mm(number, done)
    for name, length in (("reed.1a", left), ("", truth.height_mm[done])):
        sitting.jot(
            Measured, at_done=done, total=BAND.total, strand=name, length_mm=length,
            lying="" if name else "relaxed",
        )  # fmt: skip
    return sitting


def test_time_by_knot_and_by_sitting_adds_up_to_the_time_worked(
    store: Store, clock: HandClock
) -> None:
    sitting = measured_piece(store, clock)
    sitting.take_back(2)
    clock.go_on(9)
    sitting.count(2)
    found, state = record(sitting.events, KNOTS), sitting.state
    by_knot = sum(time.worked_s for time in found.knots.values())
    assert by_knot == pytest.approx(state.worked_s, abs=0.1)
    assert sum(s.worked_s for s in found.sittings) == pytest.approx(state.worked_s, abs=0.1)
    assert [s.counts for s in found.sittings] == [A_RIPPLE, 2 * A_RIPPLE]
    assert found.knots["clove hitch"].pace_s == pytest.approx(12, rel=0.1)
    ties = sum(time.ties for time in found.knots.values())
    assert ties == 3 * A_RIPPLE + 2


def test_counts_of_several_knots_at_once_share_their_time(store: Store, clock: HandClock) -> None:
    sitting = begun(store, clock)
    sitting.count()
    clock.go_on(170)
    sitting.count(A_RIPPLE - 1)
    found = record(sitting.events, KNOTS)
    assert found.knots["clove hitch"].ties == 14
    assert found.knots["square knot"].ties == 4
    assert found.knots["square knot"].worked_s == pytest.approx(40, abs=1)


def test_a_long_knot_among_short_ones_has_the_longer_share(store: Store, clock: HandClock) -> None:
    """Counted at once with four half knots, a gathering knot takes nearly all of the time."""
    number = start_piece(store, clock, title="Ebb", project_text="", source="ebb", total=6)
    knots = ["half knot", *["half knot"] * 4, "gathering knot"]
    sitting = Sitting(store, clock, number, knots)
    sitting.count()
    clock.go_on(200)
    sitting.count(5)
    found = record(sitting.events, knots)
    assert found.knots["gathering knot"].worked_s > 170


def test_cord_cost_has_its_waste_and_the_hours_their_rate() -> None:
    accounts = tell_accounts()
    prices = read_prices("currency: €\nhour: 12\ncords: {reed: 0.50 per m, cotton 2 mm: 2 / 10 m}")
    paid = cost(BAND, accounts, 5400.0, prices)
    reed, clay = (account.cut_mm / 1000 for account in accounts)
    assert paid.cord == pytest.approx(0.5 * reed + 0.2 * clay)
    assert paid.hours == pytest.approx(18.0)
    assert paid.total == pytest.approx(0.5 * reed + 0.2 * clay + 18)
    assert paid.missing == ()


def tell_accounts() -> tuple[CordAccount, ...]:
    return cords(BAND, estimates_of(BAND, ()), State(total=BAND.total))


def test_a_price_that_is_missing_is_named() -> None:
    paid = cost(BAND, tell_accounts(), 60.0, Prices(cords={"reed": A_METRE}))
    assert paid.hours is None
    assert paid.missing == ("clay (cotton 2 mm)", "an hour")


def test_a_cord_of_unknown_fibre_is_priced_by_its_thickness_alone() -> None:
    plan = band(TEXT.replace("fibre: cotton, ", ""))
    paid = cost(plan, tell_accounts(), 60.0, Prices(hour=Decimal(12), cords={"reed": A_METRE}))
    assert paid.missing == ("clay (2 mm)",)
    price = read_prices("cords: {2 mm: 2 / 10 m}").of_cord("clay", "", 2.0)
    assert price
    assert price.per_mm(None) == Decimal("0.0002")


def test_cord_is_priced_by_weight_where_the_project_says_what_it_weighs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """4 g/m at 14 a kilogram are 0.056 a metre; what clay weighs has to be added."""
    heavy = TEXT.replace("diameter: 2 mm", "diameter: 2 mm, weight: 4 g/m", 1)
    plan, accounts = band(heavy), tell_accounts()
    for written in ("14 per kg", "7 per 500 g", "14/kg", "7 per 1/2 kg"):
        paid = cost(
            plan, accounts, 60.0, read_prices(f"cords: {{reed: {written}, clay: 9 per lb}}")
        )
        assert paid.cord == pytest.approx(0.056 * accounts[0].cut_mm / 1000)
        assert (paid.missing, paid.unweighed) == (("an hour",), ("clay",))
    neither = cost(band(), accounts, 60.0, read_prices("hour: 9\ncords: {cotton 2 mm: 14 per kg}"))
    assert (neither.cord, neither.unweighed) == (None, ("reed", "clay"))
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    with Store(tmp_path / "data" / "coach.db") as store:
        begun(store, HandClock(), heavy)
    (tmp_path / "settings").mkdir()
    (tmp_path / "settings" / "prices.yaml").write_text("cords: {cotton 2 mm: 14 per kg}\n")
    assert main.main(["pieces", "Sluice band"]) == 0
    assert "clay has a price by weight: add what it weighs" in capsys.readouterr().out
    assert main.main(["pieces", "Sluice band", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["cost"]["unweighed"] == ["clay"]


def test_what_was_measured_is_carried_to_cords_of_the_same_fibre_and_thickness(
    store: Store, clock: HandClock
) -> None:
    """Reed is 2 mm cotton like the new rush; tide is thinner and learns nothing."""
    measured_piece(store, clock)
    text = TEXT.replace("reed", "rush").replace("sienna, fibre: cotton, diameter: 2",
                                                "sienna, fibre: cotton, diameter: 1")  # fmt: skip
    plan = band(text)
    found = carry_over(store, plan.project)
    assert found.beliefs["rush", ""].mean > 0.82
    assert ("clay", "") not in found.beliefs
    assert found.pieces == ("Sluice band",)
    again = in_hands(plan, found.beliefs)
    assert again.hands.compression_of("rush") == found.beliefs["rush", ""].mean
    sitting = begun(store, clock, text, found)
    assert look(store, sitting.piece_id).beliefs == found.beliefs


def test_paces_are_carried_by_knot_and_cord(store: Store, clock: HandClock) -> None:
    """In the same cord a pace counts in full; in another it is less sure."""
    measured_piece(store, clock)
    same = carry_over(store, BAND.project).paces
    thin = band(TEXT.replace("diameter: 2 mm", "diameter: 1 mm"))
    other = carry_over(store, thin.project).paces
    work = ties("clove hitch", 100)
    here, there = time_for(same, work), time_for(other, work)
    assert here.high_s / here.low_s < 0.9 * there.high_s / there.low_s
    assert there.likely_s == pytest.approx(here.likely_s, rel=0.02)
    assert expected_seconds(same, ties("clove hitch")) > 10


def test_a_page_an_object_and_rows_tell_one_piece(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    clock = HandClock()
    with Store(tmp_path / "data" / "coach.db") as store:
        sitting = measured_piece(store, clock)
        sitting.jot(
            Joined, at_done=54, total=BAND.total, strand="clay.1a", length_mm=500.0, overlap_mm=0.0
        )
    (tmp_path / "settings").mkdir()
    (tmp_path / "settings" / "prices.yaml").write_text("hour: 10\ncords: {reed: 1 per m}\n")
    assert main.main(["pieces", "sluice band"]) == 0
    page = capsys.readouterr().out
    for told in ("Time by knot", "clove hitch", "Time by sitting", "Pace over the piece",
                 "rest of reed.1a at tie 54", "length of the work at tie 54",
                 "reed: works up like 8",
                 "left over", "hours", "No price is known for clay (cotton 2 mm)"):  # fmt: skip
        assert told in page
    assert max(map(len, page.splitlines())) <= 78
    assert main.main(["pieces", "Sluice band", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["done"] == 54
    assert {k["knot"] for k in told["knots"]} == {"clove hitch", "square knot"}
    assert told["measures"][0]["measured_mm"] != told["measures"][0]["told_mm"]
    assert [c["joined_mm"] for c in told["cords"]] == [0, 500]
    assert told["cost"]["hours"] == pytest.approx(told["worked_s"] / 360, abs=0.02)
    assert main.main(["pieces", "Sluice band", "--csv"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert {row["what"] for row in rows} == {
        "knot",
        "sitting",
        "cut",
        "joined",
        "left over",
        "cost",
    }


def test_names_that_a_spreadsheet_would_reckon_with_are_kept_harmless(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    with Store(tmp_path / "data" / "coach.db") as store:
        start_piece(store, HandClock(), title="=1+1", project_text="", source="x", total=3)
    assert main.main(["pieces", "--csv"]) == 0
    (row,) = csv.DictReader(io.StringIO(capsys.readouterr().out))
    assert row["name"] == "'=1+1"


def test_a_piece_whose_project_cannot_be_read_still_tells_its_times(
    store: Store, clock: HandClock
) -> None:
    number = start_piece(store, clock, title="Old", project_text="no", source="x", total=9)
    sitting = Sitting(store, clock, number, ["half knot"] * 9)
    tied(sitting, clock, 4, 5)
    summary = store.piece(number)
    assert summary
    found = gather_piece(summary, sitting.events, None)
    assert found.base is None
    assert found.record.knots["half knot"].ties == 4


def test_a_name_that_no_piece_has_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    assert main.main(["pieces", "reef"]) == 2
    assert "No piece is called" in capsys.readouterr().err


def plotted(slow_first: bool, *, plain: bool) -> list[str]:
    """Plot 40 ties of which one half took three times as long as the other."""
    paces = [30.0] * 20 + [10.0] * 20
    spells = [
        Spell(at, "clove hitch", 1, pace)
        for at, pace in enumerate(paces if slow_first else paces[::-1])
    ]
    whole = TimeRecord({"clove hitch": KnotTime(40, sum(paces))}, (), tuple(spells))
    return pace_plot(whole, 40, 47, plain=plain)


@pytest.mark.parametrize("plain", [False, True])
@pytest.mark.parametrize("slow_first", [False, True])
def test_the_slow_part_of_a_piece_stands_high_and_the_quick_part_low(
    *, slow_first: bool, plain: bool
) -> None:
    """1.5 and 0.5 of the mean, of 2 at the upper edge: three quarters and a quarter of six rows."""
    *rows, foot = plotted(slow_first, plain=plain)
    labels = [row[:6].strip() for row in rows]
    assert labels == ["2 x", "", "", "mean", "", ""]
    columns = [row[7:].ljust(40) for row in rows]
    heights = [sum(column[at] != " " for column in columns) for at in range(40)]
    slow, quick = heights[:20], heights[20:]
    if not slow_first:
        slow, quick = quick, slow
    assert set(slow) == {5}, "four rows and a half"
    assert set(quick) == {2}, "a row and a half"
    assert columns[0].strip() == "", "nothing took twice the mean"
    assert columns[-1].strip() == columns[-1], "every column stands on the ground"
    assert foot.split() == ["from", "the", "first", "tie", "to", "the", "last"]
