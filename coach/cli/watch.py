"""`coach check --watch`: read files again whenever they are saved.

No notification of saves works on all systems, so the files' dates are polled twice a second,
which costs next to nothing.
"""

import os
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

from coach.cli.bench_setup import chosen_units
from coach.cli.file_output import check_target, write_failure
from coach.cli.options.maker_plan import plan_for_maker
from coach.cli.options.piece_options import RequestedPiece
from coach.cli.project_files import checked_file, problem_lines
from coach.cli.project_finder import NoSuchProject, find_project
from coach.cli.reports.plan_page import render_plan
from coach.cli.skill_question import skill_set
from coach.picture.compose import scene_of
from coach.picture.render.shades import looks
from coach.picture.render.svg_drawing import render_svg
from coach.piece import PieceError
from coach.piece.storage.atomic_write import ANYBODYS_FILE, write_whole
from coach.plan.plan_model import Plan
from coach.text import one_line

LOOK_EVERY_S: Final = 0.5
Stamp = tuple[int, int, int] | None


def watch(
    names: Sequence[str], pause: Callable[[float], None] = time.sleep, *, picture: bool = False
) -> int:
    """Report problems and plan of each file, then again of each one that is saved.

    It runs until it is interrupted.

    Args:
        names: The files.
        pause: Wait until the next look, in seconds.
        picture: Whether to keep a picture beside each file that is sound.
    """
    told_of: dict[str, Stamp] = {}
    seen: dict[str, Stamp] = {name: file_stamp(name) for name in names}
    print("Watching; ctrl+c stops.")
    try:
        while True:
            for name in names:
                now = file_stamp(name)
                # A file that is still being written changes between two looks.
                if now is not None and now == seen[name] and told_of.get(name) != now:
                    told_of[name] = now
                    print("\n".join(report(name, picture=picture)), flush=True)
                seen[name] = now
            pause(LOOK_EVERY_S)
    except KeyboardInterrupt:
        return 0


def file_stamp(name: str) -> Stamp:
    """Return a value that changes when a file is saved; None while it is missing."""
    try:
        found = os.stat(find_project(name).path)  # noqa: PTH116 - the same call
    except (NoSuchProject, OSError, ValueError):
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def picture_of(name: str) -> Path:
    """Return the path of a file's picture. Raises NoSuchProject."""
    return find_project(name).path.with_suffix(".svg")


def report(name: str, *, picture: bool = False) -> list[str]:
    """Return a file's problems, and its plan if it has one; write its picture if wanted."""
    try:
        checked = checked_file(name)
    except NoSuchProject as error:
        return [f"coach: {error}"]
    plan = checked.plan
    if plan is None:
        return ["", *problem_lines(checked)]
    own = plan_for_maker(plan, skill_set)
    this = RequestedPiece(own.plan, own.paces, chosen_units(None), learnt_from=own.learnt_from)
    found = this.report(full=True)
    drawn = [_drawn(name, own.plan)] if picture else []
    return ["", *render_plan(found, called=name), "", *problem_lines(checked), *drawn]


def _drawn(name: str, plan: Plan) -> str:
    """Write the picture of a plan beside its file, and return a line about it."""
    path, project = picture_of(name), plan.project
    colours = {cord.id: cord.colour for cord in project.cords.values()}
    text = render_svg(scene_of(plan), looks(list(colours), colours), one_line(project.title))
    try:
        check_target(path)
        write_whole(path, f"{text}\n".encode(), replace=True, mode=ANYBODYS_FILE)
    except (PieceError, OSError) as fault:
        reason = str(fault) if isinstance(fault, PieceError) else f"{write_failure(fault)}."
        return f"The picture cannot be written: {one_line(reason)}"
    return f"The picture is in {one_line(path.name)}."
