"""`coach check --watch`: reads files again whenever they are saved.

There is no way to be told of a save that all systems share, so the files' dates are looked at
twice a second, with a sleep between: that costs next to nothing.
"""

import os
import time
from collections.abc import Callable, Sequence
from typing import Final

from coach.cli.asked.own_hands import own_hands
from coach.cli.asked.this_piece import ThisPiece
from coach.cli.bench_setup import unit_of
from coach.cli.project_files import checked_file, told
from coach.cli.reports.plan_page import page
from coach.cli.shelf import NoSuchProject, find
from coach.cli.skill_question import skill_set

LOOK_EVERY_S: Final = 0.5
Stamp = tuple[int, int, int] | None


def watch(names: Sequence[str], pause: Callable[[float], None] = time.sleep) -> int:
    """Tell problems and plan of each file, then again of each one that is saved, until stopped."""
    told_of: dict[str, Stamp] = {}
    seen: dict[str, Stamp] = {name: stamp(name) for name in names}
    print("Watching; ctrl+c stops.")
    try:
        while True:
            for name in names:
                now = stamp(name)
                # A file that is still being written changes between two looks.
                if now is not None and now == seen[name] and told_of.get(name) != now:
                    told_of[name] = now
                    print("\n".join(report(name)), flush=True)
                seen[name] = now
            pause(LOOK_EVERY_S)
    except KeyboardInterrupt:
        return 0


def stamp(name: str) -> Stamp:
    """Return what changes when a file is saved; None while it is not there."""
    try:
        found = os.stat(find(name).path)  # noqa: PTH116 - the same call
    except (NoSuchProject, OSError, ValueError):
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def report(name: str) -> list[str]:
    """Return a file's problems, and its plan when it has one."""
    try:
        checked = checked_file(name)
    except NoSuchProject as error:
        return [f"coach: {error}"]
    plan = checked.plan
    if plan is None:
        return ["", *told(checked)]
    own = own_hands(plan, skill_set)
    this = ThisPiece(own.plan, own.paces, unit_of(None), learnt_from=own.learnt_from)
    found = this.report(full=True)
    return ["", *page(found, called=name), "", *told(checked)]
