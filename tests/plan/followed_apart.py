"""Follows large work in a process of its own, and tells what it took. Forked by the tests.

Needs POSIX: what Linux tells of processes and drives.
"""

import re
import resource
import time
from collections.abc import Sequence
from pathlib import Path

from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan


def follow(arguments: Sequence[str]) -> None:
    """Compile and measure a project; print its counts, the seconds that took and the peak in MB."""
    text = arguments[0]
    assert measured(re.sub("use: m, times: [0-9]+", "use: m", text))  # all is loaded
    began = time.process_time()
    plan = measured(text)
    took = time.process_time() - began
    status = Path("/proc/self/status")
    # A child starts with its parent's peak in ru_maxrss; Linux tells its own peak apart.
    own = re.search(r"VmHWM:\s+([0-9]+)", status.read_text()) if status.exists() else None
    peak = int(own[1]) / 1024 if own else resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(plan.total, took, peak)  # noqa: T201 - the test reads it


def measured(text: str) -> Plan:
    """Return the plan of a project, measured."""
    plan = read_plan(text).plan
    assert plan
    assert plan.length_mm
    assert plan.ledgers
    return plan
