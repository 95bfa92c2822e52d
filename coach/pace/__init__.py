"""Paces: how long work takes, from the trade's times and from the maker's own counts."""

from coach.pace.estimate import Paces, Range, expected_seconds, initial_paces, learn_time, time_for
from coach.pace.work_amount import WorkAmount
from coach.pace.working_time import Gap, worked_gap

__all__ = [
    "Gap", "Paces", "Range", "WorkAmount", "expected_seconds", "initial_paces", "learn_time",
    "time_for", "worked_gap",
]  # fmt: skip
