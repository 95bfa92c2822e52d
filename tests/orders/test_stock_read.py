"""A list of stock: read with places, all problems together, known to editors, and written again."""

import json
from pathlib import Path

import jsonschema
import pytest
import yaml

import coach
from coach.cli.main import main
from coach.cli.orders.stock_page import as_yaml
from coach.orders import read_prices
from coach.orders.desk_events import StockTaken
from coach.orders.desk_state import fold_desk
from coach.orders.read_stock import StockEntry, read_stock, stock_events, stock_schema

SOUND = """cords:
  clay cotton 2 mm: {hanks: [100 m, 4.5 m], weighs: 4 g/m, price: 14 per 500 g}
  foam wool: 500 g
  silt cotton 2 mm: [12 yd, 3 m]
findings:
  25 mm split ring: {number: 40, price: 2 per 10}
  8 mm wooden bead: 100
"""
FAULTY = [
    ("cords: {clay: 3}", 15, "unit", "as in"),
    ("cords: {clay: 3 parsecs}", 15, "Unknown unit", ""),
    ("cords: {clay: [3 m, {}]}", 21, "not a mapping", ""),
    ("cords: {clay: {hanks: 3 m, weighs: heavy}}", 36, "weight per length", "4 g/m"),
    ("cords: {clay: {hanks: 3 m, price: 14}}", 35, "price for a length", "14 per 500 g"),
    ("cords: {clay: {hank: 3 m}}", 16, "no key", "hanks"),
    ("cords: [clay]", 8, "needs labels", "100 m"),
    ("cords: {clay: 3 m, CLAY: 4 m}", 20, "for the second time", "Keep one"),
    (f"cords: {{{'x' * 61}: 3 m}}", 9, "this one has 61", "shelf"),
    ("findings: {ring: many}", 18, "whole number up to 100,000", "40"),
    ("findings: {ring: -3}", 18, "whole number", ""),
    ("findings: {ring: 2000000}", 18, "whole number", ""),
    ("findings: {ring: {number: 3, price: x}}", 37, "what one costs", "2 per 10"),
    ("findings: {ring: {number: 3, price: 2 per 0}}", 37, "what one costs", ""),
    ("beads: {ring: 3}", 1, "no key", ""),
    ("just words", 1, "not a list of stock", "cords:"),
]


@pytest.mark.parametrize(("text", "column", "told", "hint"), FAULTY)
def test_what_is_wrong_is_told_with_line_and_column(
    text: str, column: int, told: str, hint: str
) -> None:
    (problem,) = read_stock(f"# ours\n{text}").problems
    assert (problem.span.line, problem.span.column) == (2, column)
    assert told in problem.message
    assert hint in problem.hint


def test_all_problems_are_told_together() -> None:
    lines = ["cords:", "  clay: 3", "  foam: {weighs: heavy}", "findings: {ring: many}", "beads: 3"]
    assert [p.span.line for p in read_stock("\n".join(lines)).problems] == [2, 3, 4, 5]


def test_a_sound_list_says_what_is_there() -> None:
    reading = read_stock(SOUND.replace("\n", "\r\n"))
    assert not reading.problems
    assert reading.things == (
        StockEntry("clay cotton 2 mm", (100_000, 4500), fineness_tex=4000, price="14 per 500 g"),
        StockEntry("foam wool", grams=500),
        StockEntry("silt cotton 2 mm", (12 * 914.4, 3000)),  # a yard is 0.9144 m, by definition
        StockEntry("25 mm split ring", number=40, price="0.2"),
        StockEntry("8 mm wooden bead", number=100),
    )
    assert read_stock("").things == ()


def test_what_is_counted_takes_the_place_of_what_was_thought_and_writes_itself_again() -> None:
    things = read_stock(SOUND).things
    added = [e for t in things for e in stock_events(t, 1, counted=False)]
    twice = fold_desk([*added, *added]).stock
    assert twice.items["8 mm wooden bead"].count == 200
    counted = fold_desk(
        [*added, *(e for t in things for e in stock_events(t, 2, counted=True))]
    ).stock
    assert counted == fold_desk(added).stock
    again = read_stock(as_yaml(counted.items.values()))
    assert not again.problems
    assert (
        fold_desk(e for t in again.things for e in stock_events(t, 3, counted=False)).stock
        == counted
    )
    gone = fold_desk([*added, StockTaken(at_ms=3, what="silt cotton 2 mm", length_mm=1e5)]).stock
    assert 'silt cotton 2 mm": {hanks: []}' in as_yaml(gone.items.values())


def test_editors_know_what_the_reader_takes_and_the_shipped_schemas_are_these() -> None:
    known = stock_schema()
    jsonschema.Draft202012Validator.check_schema(known)
    checked = jsonschema.Draft202012Validator(known)
    assert checked.is_valid(yaml.load(SOUND, Loader=yaml.BaseLoader))  # noqa: S506 - gives texts
    for text in ("cords: [clay]", "cords: {clay: {hank: 3 m}}", "findings: {ring: many}",
                 "beads: {ring: 3}"):  # fmt: skip
        assert not checked.is_valid(yaml.load(text, Loader=yaml.BaseLoader)), text  # noqa: S506
    folder = Path(coach.__file__).parent / "orders"
    for name, told in (("stock", known), ("prices", read_prices.prices_schema())):
        shipped = (folder / f"{name}.schema.json").read_text(encoding="utf-8")
        assert json.loads(shipped) == json.loads(json.dumps(told))


def test_a_list_is_added_or_counted_whole_or_not_at_all(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    file = tmp_path / "my.yaml"
    file.write_text(SOUND, encoding="utf-8")
    assert main(["stock", "add", "--file", str(file)]) == 0
    assert "8 mm wooden bead: 100" in capsys.readouterr().out
    for text, status, told in (
        ("cords: {clay: 3}\n", 1, ":1:15:"),
        ("cords: {tide: 3 m, 8 mm wooden bead: 3 m}\n", 2, "belongs under findings"),
    ):
        file.write_text(text, encoding="utf-8")
        assert main(["stock", "count", "--file", str(file)]) == status
        assert told in capsys.readouterr().err
    assert main(["stock", "--file", str(file)]) == 2
    assert main(["stock", "add", "--file", str(tmp_path / "none.yaml")]) == 1
    capsys.readouterr()
    assert main(["stock", "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)) == 5
