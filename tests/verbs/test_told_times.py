"""Times of day are told in the maker's own zone; data stays in UTC."""

import json
import os
import re
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from coach.cli.main import main
from coach.cli.recovery_dialog import recovery_options
from coach.piece import Store, start_piece
from coach.piece.storage.folders import folders
from coach.piece.storage.snapshots import take_snapshot

ZONES = ("UTC", "Europe/Berlin", "Asia/Kathmandu", "America/St_Johns", "Pacific/Kiritimati")
SUMMER, WINTER = 1_753_910_100_000, 1_766_870_100_000  # 30 July and 27 December 2025, evening


class Clock:
    """A clock that stands at a moment."""

    def __init__(self, ms: int) -> None:
        self.ms = ms

    def now_ms(self) -> int:
        return self.ms

    def tick_ms(self) -> int:
        return self.ms


@pytest.fixture(params=ZONES)
def zone(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Iterator[ZoneInfo]:
    """Yield a zone that the machine is really set to."""
    monkeypatch.setenv("TZ", request.param)
    time.tzset()
    yield ZoneInfo(request.param)
    monkeypatch.undo()
    time.tzset()


@pytest.fixture
def database(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the pieces of a maker who began one in summer and one in winter."""
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    path = folders(os.environ).database
    for at_ms in (SUMMER, WINTER):
        with closing(Store(path)) as store:
            start_piece(
                store, Clock(at_ms), title="Reed strap", project_text="", source="", total=3
            )
    return path


def told(at_ms: int, zone: ZoneInfo) -> str:
    """Return a moment as it is told, worked out by the zone's own rules."""
    there = datetime.fromtimestamp(at_ms / 1000, UTC).astimezone(zone)
    return f"{there:%a} {there.day} {there:%b %Y, %H:%M}"


def snapshots_told(database: Path) -> str:
    """Return what `coach mend` says of snapshots taken at both moments."""
    with closing(sqlite3.connect(database)) as source:
        for at_ms in (SUMMER, WINTER):
            take_snapshot(source, database, at_ms)
    return " ".join(words for _, words, _ in recovery_options(database))


@pytest.mark.parametrize("verb", ["pieces", "piece", "mend"])
def test_no_verb_tells_a_maker_the_time_of_another_zone(
    database: Path, zone: ZoneInfo, capsys: pytest.CaptureFixture[str], verb: str
) -> None:
    """In summer and in winter, each with the zone's own difference."""
    if verb == "pieces":
        main(["pieces"])
    elif verb == "piece":
        main(["pieces", "Reed strap"])
        main(["pieces", "Reed strap 2"])
    shown = snapshots_told(database) if verb == "mend" else capsys.readouterr().out
    assert told(SUMMER, zone) in shown
    assert told(WINTER, zone) in shown
    assert "UTC" not in shown


@pytest.mark.usefixtures("database", "zone")
def test_data_stays_in_utc(capsys: pytest.CaptureFixture[str]) -> None:
    main(["pieces", "--json"])
    assert {piece["touched"] for piece in json.loads(capsys.readouterr().out)} == {
        "2025-07-30T21:15:00Z", "2025-12-27T21:15:00Z",
    }  # fmt: skip
    main(["pieces", "--csv"])
    assert re.findall(r"2025-12-27T21:15:00Z", capsys.readouterr().out)
