"""Sleep, clocks that are set, summer time, other zones: the time worked stays right."""

import time
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hand_clock import HandClock

from coach.piece import Sitting, Store, look, start_piece
from coach.piece.storage.folders import kind_in, network_kind
from coach.session.time_format import moment_words

KNOTS = ["clove hitch"] * 400
TIE_S = 20
NIGHT_S = 9 * 3600


def opened(store: Store, clock: HandClock) -> Sitting:
    piece_id = start_piece(
        store, clock, title="Ebb", project_text="", source="ebb.yaml", total=len(KNOTS)
    )
    sitting = Sitting(store, clock, piece_id, KNOTS)
    sitting.count()
    return sitting


def tie(sitting: Sitting, clock: HandClock, times: int = 30) -> None:
    for _ in range(times):
        clock.go_on(TIE_S)
        sitting.count()


def pace_s(sitting: Sitting) -> float:
    return sitting.state.running_s


@pytest.mark.parametrize("ticks_asleep", [True, False], ids=["running on", "standing still"])
def test_a_night_asleep_is_no_work(store: Store, clock: HandClock, *, ticks_asleep: bool) -> None:
    """Some machines let the monotonic clock run while they sleep, some do not."""
    sitting = opened(store, clock)
    tie(sitting, clock)
    before = sitting.state.worked_s
    clock.now += NIGHT_S * 1000
    clock.tick += NIGHT_S * 1000 * ticks_asleep
    clock.go_on(TIE_S)
    sitting.count()
    added = sitting.state.worked_s - before
    assert added == pytest.approx(TIE_S if not ticks_asleep else pace_s(sitting), abs=0.01)
    assert added < 2 * TIE_S


@pytest.mark.parametrize(
    "jump_s",
    [-3600, 3600, -86_400 * 365, 5 * 3600 + 1800],
    ids=["an hour back", "an hour on", "a year back", "another zone's wall clock"],
)
def test_a_clock_that_is_set_changes_no_time_worked(
    store: Store, clock: HandClock, jump_s: int
) -> None:
    """The last hour of summer time comes twice, a wrong year is put right: ties take 20 s still."""
    sitting = opened(store, clock)
    tie(sitting, clock, 10)
    clock.now += jump_s * 1000
    tie(sitting, clock, 10)
    assert sitting.state.worked_s == pytest.approx(20 * TIE_S)
    assert look(store, sitting.piece_id) == sitting.state


def test_a_clock_set_back_between_sittings_changes_nothing_either(
    store: Store, clock: HandClock
) -> None:
    """Another sitting, after a restart: ticks begin anew and it is earlier than before."""
    sitting = opened(store, clock)
    tie(sitting, clock, 10)
    worked = sitting.state.worked_s
    clock.now -= 7_200_000
    clock.tick = 1000
    again = Sitting(store, clock, sitting.piece_id, KNOTS)
    assert again.state.worked_s == worked
    tie(again, clock, 11)
    assert again.state.worked_s == pytest.approx(worked + 11 * TIE_S, abs=TIE_S)
    assert again.state.sitting_s > 0


@pytest.mark.parametrize("zone", ["UTC", "Europe/Berlin", "Asia/Kathmandu", "America/St_Johns"])
def test_the_time_zone_changes_what_is_shown_and_not_what_is_kept(
    store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch, zone: str
) -> None:
    """The machine's zone is really set; the list and the totals stay in UTC."""
    monkeypatch.setenv("TZ", zone)
    time.tzset()
    try:
        sitting = opened(store, clock)
        tie(sitting, clock, 3)
        (piece,) = store.pieces()
        at = datetime.fromtimestamp(clock.now / 1000, UTC)
        assert piece.touched == f"{at:%Y-%m-%dT%H:%M:%SZ}"
        assert f"{at.astimezone():%H:%M}" in moment_words(at.astimezone())
        assert sitting.state.worked_s == 3 * TIE_S
    finally:
        monkeypatch.undo()
        time.tzset()


MOUNTS = """\
22 1 253:0 / / rw,relatime shared:1 - ext4 /dev/vda rw
40 22 0:35 / /home/reed/share rw - nfs4 tide:/share rw,vers=4.2
41 22 0:36 / /home/reed/my\\040stick rw - cifs //tide/stick rw
42 40 0:37 / /home/reed/share/local rw - tmpfs tmpfs rw
43 22 0:38 / /home/reed/far rw - fuse.sshfs tide:/ rw
torn line
"""


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/home/reed/coach.db", ""),
        ("/home/reed/share/data/coach.db", "nfs4"),
        ("/home/reed/shared/coach.db", ""),
        ("/home/reed/my stick/coach.db", "cifs"),
        ("/home/reed/share/local/coach.db", ""),
        ("/home/reed/far/coach.db", "fuse.sshfs"),
    ],
)
def test_a_network_drive_is_known_by_the_mount_that_is_nearest(path: str, kind: str) -> None:
    assert kind_in(MOUNTS, path) == kind


def test_a_folder_of_this_machine_is_no_network_drive(tmp_path: Path) -> None:
    assert network_kind(tmp_path / "coach.db") == ""
