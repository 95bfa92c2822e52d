"""A morning at the desk from end to end, each JSON held against the contract of `orders.md`."""

import json
from decimal import Decimal
from pathlib import Path
from typing import Any, Final

import pytest

from coach.cli.main import main
from coach.cli.registry import parse_call
from coach.cli.workshop import workshop_setup as desk_module
from coach.cli.workshop.begin_order import begin_or_open
from coach.cli.workshop.workshop_setup import workshop_of_maker
from coach.piece import Store, folders
from coach.session.ports import OnBench

PRICES = """currency: €
hour: 14
cords: {cotton 2 mm: 0.30 per m}
findings: {25 mm split ring: 0.20, 8 mm wooden bead: 0.10}
extras: {tag: 0.15}
overhead: 10 %
margin: 30 %
rounding: 0.50 up
hours: {mon: 1 h, tue: 1 h, wed: 1 h, thu: 1 h, fri: 1 h, sat: 3 h, sun: 3 h}
"""
SHELF = """cords:
  indigo cotton 2 mm: [20 m, 4.5 m]
  teal cotton 2 mm: 1 m
  plum cotton 2 mm: 500 g
findings: {25 mm split ring: 40}
"""
MIX = ["--copies", "12", "--colourway", "dusk=4", "--colourway", "foam=4", "--colourway", "silt=4"]

# orders.md, "Contract for other programs": every key, with the type of what stands there.
NUMBER = (int, float)
RANGE = {"low": NUMBER, "likely": NUMBER, "high": NUMBER}
QUOTE: dict[str, Any] = {
    "title": str, "copies": int,
    "pieces": [{"colourway": str, "copies": int, "length_mm": NUMBER}],
    "cords": [{
        "id": str, "cut": [{"mm": NUMBER, "pieces": int}], "total_mm": NUMBER,
        "in_stock_mm": NUMBER, "to_buy": [{"what": str, "count": int, "price": NUMBER}],
    }],
    "findings": [{"what": str, "count": int, "price": NUMBER}],
    "hours": RANGE, "cost": {"material": NUMBER, "work": NUMBER, "overhead": NUMBER},
    "price": {"each": NUMBER, "total": NUMBER, "currency": str},
    "ready": {"early": str, "likely": str, "late": str},
}  # fmt: skip
STOCK = [{
    "id": str, "what": str, "mm": (*NUMBER, type(None)), "grams": (*NUMBER, type(None)),
    "count": (int, type(None)),
}]  # fmt: skip


def held(found: object, contract: Any, where: str = "") -> None:
    """Hold a value against a contract, key by key."""
    if isinstance(contract, dict):
        assert isinstance(found, dict), where
        for key, wanted in contract.items():
            assert key in found, f"{where}.{key}"
            held(found[key], wanted, f"{where}.{key}")
    elif isinstance(contract, list):
        assert isinstance(found, list), where
        for one in found:
            held(one, contract[0], f"{where}[]")
    else:
        assert isinstance(found, contract), f"{where}: {found!r}"
        assert not isinstance(found, bool), where


SECONDS: Final = 20  # of each count


class Clock:
    """A clock that is put on by hand; it begins in March 2031."""

    def __init__(self) -> None:
        self.ms = 1_930_000_000_000

    def now_ms(self) -> int:
        return self.ms

    def tick_ms(self) -> int:
        return self.ms

    def tick_at(self, read_s: float) -> int:
        return round(read_s * 1000)


class Morning:
    """A desk in a home of its own, asked by commands and worked at by hand."""

    def __init__(self, home: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.clock, self._capsys = Clock(), capsys
        self.database = folders({"COACH_HOME": str(home)}).database

    def said(self, *call: str) -> str:
        self._capsys.readouterr()
        assert main(list(call)) == 0, self._capsys.readouterr().err
        return self._capsys.readouterr().out

    def told(self, *call: str) -> Any:
        return json.loads(self.said(*call, "--json"))

    def bench(self, store: Store, *more: str) -> OnBench:
        call = ["knot", "reed-keyring", "--order", "stall", *more]
        return begin_or_open(workshop_of_maker(store), parse_call(call)[1])

    def evening(self, *, over_all: bool) -> None:
        """Work one step of each piece that is left, or all of the rest, going on by the order."""
        with Store(self.database) as store:
            bench: OnBench | None = self.bench(store)
            for _ in range(12):
                state = bench.sitting.state if bench else None
                if bench is None or state is None or state.finished:
                    return
                end = bench.plan.steps[1].end if over_all else state.total
                for _ in range(end - state.done):  # one by one: a long gap is a break
                    self.clock.ms += SECONDS * 1000
                    bench.sitting.count()
                bench.sitting.leave()
                bench = bench.batch.next_piece() if bench.batch else None


@pytest.fixture
def morning(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Morning:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    home = folders({"COACH_HOME": str(tmp_path)})
    home.settings.mkdir(parents=True)
    (home.settings / "prices.yaml").write_text(PRICES, encoding="utf-8")
    (tmp_path / "shelf.yaml").write_text(SHELF, encoding="utf-8")
    found = Morning(tmp_path, capsys)
    monkeypatch.setattr(desk_module, "SystemClock", lambda: found.clock)
    found.said("stock", "add", "--file", str(tmp_path / "shelf.yaml"))
    return found


def test_a_morning_at_the_desk(morning: Morning) -> None:
    quote = _quoted(morning)
    _cut(morning, quote)
    _worked(morning)
    _looked_back_on(morning, quote)


def _quoted(morning: Morning) -> Any:
    """Twelve in three colourways are quoted from what is on the shelf."""
    stock = morning.told("stock")
    held(stock, STOCK)
    units = [[k for k in ("mm", "grams", "count") if s[k] is not None] for s in stock]
    assert sorted(units) == [["count"], ["grams"], ["mm"], ["mm"]]
    quote = morning.told("quote", "reed-keyring", *MIX)
    held(quote, QUOTE)
    assert [(p["colourway"], p["copies"]) for p in quote["pieces"]] == [
        ("dusk", 4), ("foam", 4), ("silt", 4),
    ]  # fmt: skip
    cords = {c["what"]: c for c in quote["cords"]}
    assert not cords["indigo cotton 2 mm"]["to_buy"]
    assert cords["teal cotton 2 mm"]["in_stock_mm"] == 1000
    assert quote["ready"]["early"] <= quote["ready"]["likely"] <= quote["ready"]["late"]
    each = [Decimal(str(p["each"])) * p["copies"] for p in quote["pieces"]]
    assert sum(each) == Decimal(str(quote["price"]["total"]))
    return quote


def _cut(morning: Morning, quote: Any) -> None:
    """The order is begun and cut with ticks; more teal goes than was there, and that is said."""
    with Store(morning.database) as store:
        morning.bench(store, *MIX)
    assert "5.4 m more teal cotton 2 mm taken than" in morning.said("orders", "stall", "cut")
    assert morning.told("orders", "stall", "list")["cords"][0]["cut"] == 4
    total = next(c for c in quote["cords"] if c["what"] == "teal cotton 2 mm")["total_mm"]
    teal = next(s for s in morning.told("stock") if s["what"] == "teal cotton 2 mm")
    assert teal["mm"] == 1000 - total
    makes = ("stock", "--makes", "reed-keyring", "--colourway", "foam")
    for call in (("stock",), ("quote", "reed-keyring", *MIX), makes):
        assert "more was taken than was" in " ".join(morning.said(*call).split())
    owed = morning.told("quote", "reed-keyring", *MIX)["cords"]
    assert next(c for c in owed if c["what"] == teal["what"])["in_stock_mm"] == teal["mm"]
    # nobody knows how long the cord by weight is: it is not said to be short
    assert "500 g by weight, less" in morning.said("stock")


def _worked(morning: Morning) -> None:
    """Two evenings, one step over all; one piece is spoilt and another begun in its place."""
    morning.said("orders", "stall", "way")
    morning.evening(over_all=True)
    held(morning.told("orders", "stall")["ready"], {"early": str, "likely": str, "late": str})
    new = morning.said("orders", "stall", "spoilt", "stall foam 2", "--why", "short", "--another")
    assert "‘stall foam 5’ is begun." in new
    morning.said("orders", "stall", "way")
    morning.evening(over_all=False)
    order = morning.told("orders", "stall")
    assert (order["done"], order["copies"]) == (12, 12)
    ring = next(s for s in morning.told("stock") if s["what"] == "25 mm split ring")
    assert ring["count"] == 40 - 12  # the spoilt one was never finished


def _looked_back_on(morning: Morning, quote: Any) -> None:
    """The account by hand; pace and real hour go into the next quote."""
    after = morning.told("orders", "stall", "done", "--earned", "58")["afterwards"]
    assert (after["pieces"], after["spoilt"], after["earned"]) == (12, 1, 58.0)
    assert after["quoted"] == quote["price"]["total"]
    of_teal = next(c for c in quote["cords"] if c["what"] == "teal cotton 2 mm")["total_mm"] / 4
    of_foam = next(c for c in quote["cords"] if c["what"] == "tan cotton 2 mm")["total_mm"] / 4
    material = quote["cost"]["material"] + (of_teal + of_foam) / 1000 * 0.30  # of the spoilt one
    assert after["material"] == pytest.approx(material, abs=0.01)
    assert after["quoted_material"] == quote["cost"]["material"]
    teal = next(c for c in after["cords"] if c["what"] == "teal cotton 2 mm")
    assert teal["cut_mm"] == teal["quoted_mm"] * 5 / 4
    worked_h = (12 * 27 + 5) * SECONDS / 3600
    assert after["hours"] == pytest.approx(worked_h, abs=2 * SECONDS / 3600)
    left = 58 - material - quote["cost"]["overhead"]
    assert after["rate"] == pytest.approx(left / after["hours"], rel=0.01)
    then = morning.told("quote", "reed-keyring", *MIX)
    held(then, QUOTE)
    assert (then["last"]["order"], then["last"]["rate"]) == ("stall", after["rate"])
    assert then["hours"]["likely"] > quote["hours"]["likely"]  # she was slower than was thought
    page = morning.said("quote", "reed-keyring", *MIX)
    assert "Earned: 58.00 €, quoted" in page
    assert "This quote asks 14.00 € for an hour." in page


@pytest.mark.parametrize("text", ["", "currency: €\n", "hours: {mon: 1 h}\n"])
def test_what_is_not_known_is_null_and_never_a_guess(
    text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    if text:
        settings = folders({"COACH_HOME": str(tmp_path)}).settings
        settings.mkdir(parents=True)
        (settings / "prices.yaml").write_text(text, encoding="utf-8")
    assert main(["quote", "reed-keyring", "--json"]) == 0
    quote = json.loads(capsys.readouterr().out)
    assert quote.keys() >= QUOTE.keys()
    assert quote["price"] is None
    assert (quote["ready"] is None) == ("hours" not in text)
    assert quote["findings"][0]["price"] is None
    assert not quote["cost"] or quote["cost"]["material"] is None
