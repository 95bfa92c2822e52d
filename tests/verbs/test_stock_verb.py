"""`coach stock` as it is typed: added, counted, taken, listed; and what a quote makes of it."""

import json
from pathlib import Path

import pytest

from coach.cli.main import main

HOME = "COACH_HOME"
CLAY = "clay cotton 2 mm"


def said(capsys: pytest.CaptureFixture[str], *call: str, status: int = 0) -> str:
    assert main(list(call)) == status
    out = capsys.readouterr()
    return out.err if status else out.out


def listed(capsys: pytest.CaptureFixture[str]) -> dict[str, dict[str, object]]:
    return {item["id"]: item for item in json.loads(said(capsys, "stock", "--json"))}


def test_the_list_has_every_key_of_the_contract_with_the_unit_that_applies(
    capsys: pytest.CaptureFixture[str],
) -> None:
    said(capsys, "stock", "add", CLAY, "--hank", "100 m", "--price", "14 per 100 m")
    said(capsys, "stock", "add", "Foam wool", "--hank", "500 g")
    said(capsys, "stock", "add", "8 mm wooden bead", "--number", "40", "--price", "2 per 20")
    units = {
        name: [key for key in ("mm", "grams", "count") if item[key] is not None]
        for name, item in listed(capsys).items()
    }
    assert units == {CLAY: ["mm"], "foam wool": ["grams"], "8 mm wooden bead": ["count"]}
    assert {"id", "what", "mm", "grams", "count"} <= listed(capsys)[CLAY].keys()


def test_added_counted_and_taken(capsys: pytest.CaptureFixture[str]) -> None:
    said(capsys, "stock", "add", CLAY, "--hank", "100 m, 4.5 m")
    assert "99.5 m" in said(capsys, "stock", "take", CLAY, "--hank", "5 m")
    assert "50 m" in said(capsys, "stock", "count", "Clay Cotton 2 mm", "--hank", "50 m")
    told = said(capsys, "stock", "take", CLAY, "--hank", "60 m")
    assert "10 m more was taken than was in stock" in told
    assert listed(capsys)[CLAY]["mm"] == -10_000
    said(capsys, "stock", "count", CLAY, "--hank", "0 m")
    assert listed(capsys)[CLAY]["mm"] == 0


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (["add", CLAY], "Say how much came in"),
        (["add", "", "--hank", "3 m"], "Say what it is"),
        (["add", CLAY, "--hank", "3"], "unit"),
        (["add", CLAY, "--hank", "3 m", "--price", "14"], "needs a length or a weight"),
        (["add", CLAY, "--hank", "3 m", "--number", "4"], "not both"),
        (["add", CLAY, "--hank", "3 m", "--weighs", "heavy"], "--weighs"),
        (["add", "bead", "--number", "many"], "whole number"),
        (["add", "x" * 80, "--number", "3"], "60 letters"),
        (["take", "reed", "--hank", "3 m"], "reed is not in stock. There is wool."),
        (["count", "wol", "--hank", "3 m"], "Did you mean ‘wool’?"),
        (["count", "wool"], "where none is left, --hank '0 m'."),
        (["take", "wool"], "Say how much is taken"),
        (["take", "wool", "--number", "3"], "by length or weight. Use --hank."),
    ],
)
def test_what_cannot_be_is_told_with_what_can_and_changes_nothing(
    call: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    said(capsys, "stock", "add", "wool", "--hank", "7 m")
    before = listed(capsys)
    assert told in said(capsys, "stock", *call, status=2)
    assert listed(capsys) == before


def test_a_quote_and_a_plan_say_what_is_in_stock_and_what_is_bought(
    capsys: pytest.CaptureFixture[str],
) -> None:
    said(capsys, "stock", "add", CLAY, "--hank", "100 m", "--price", "14 per 100 m")
    said(capsys, "stock", "add", "25 mm split ring", "--number", "5", "--price", "0.20")
    told = json.loads(said(capsys, "quote", "reed-keyring", "--copies", "12", "--json"))
    reed, clay = told["cords"]
    assert (reed["in_stock_mm"], clay["in_stock_mm"]) == (0, 100_000)
    assert not clay["to_buy"]
    assert reed["to_buy"]
    ring = told["findings"][0]
    assert (ring["count"], ring["in_stock"], ring["to_buy"], ring["each"]) == (12, 5, 7, 0.2)
    page = said(capsys, "plan", "reed-keyring", "--copies", "12")
    assert "in stock: 100 m, which is enough" in page
    assert "buy" in page


def test_nothing_is_made_by_only_looking(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert "Nothing is in stock yet" in said(capsys, "stock")
    assert said(capsys, "stock", "--json") == "[]\n"
    assert not (tmp_path / "coach").exists()
