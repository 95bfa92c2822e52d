"""The board as tiles of an image: the current scene, cut into bands of a few lines.

A tile is an SVG picture of its own. The bands lie at fixed heights of the work, so what is above
the current tie stays the same tile from count to count, and is drawn once.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import ceil, floor
from typing import Final

from coach.picture.compose import scene_of
from coach.picture.render.shades import Look
from coach.picture.render.svg_drawing import render_part
from coach.picture.scene import Box, Run, Scene
from coach.plan.plan_model import Plan
from coach.plan.sections import current_section
from coach.tui.pixels.tile import BoardArea, Tile

TILE_LINES: Final = 4
_THICKEST: Final = 1.4  # of a line's height, that a cord is wide at most
_BELOW: Final = 0.3  # of the room, that is kept below the hands
_HANDS: Final = "\0hands"  # no cord can be called so
_LIT: Final = 1.7  # widths of a cord, that the light behind one that knots is wide
_STRAIGHT_MM: Final = 0.005
_OVER: Final = 0.7  # widths of a cord that its edge and shadow lie beyond its middle


class BoardTiles:
    """Cuts the board of one plan into tiles, with given looks and background."""

    def __init__(self, plan: Plan, looks: Mapping[str, Look], ground: str, hands: str) -> None:
        """Set a plan and its colours, as `#rrggbb`.

        Args:
            plan: The plan.
            looks: The colours of each cord, in the file's order.
            ground: The background.
            hands: The highlight of the current strands.
        """
        self._plan = plan
        self._looks = {**looks, _HANDS: Look(hands, hands, hands, hands, hands, (1.0,))}
        self._ground = ground

    def tiles(self, done: int, room: BoardArea) -> list[Tile]:
        """Return the tiles of the board after `done` counts, from above."""
        plan, made = current_section(self._plan, done)
        scene = scene_of(plan, made)
        scale, left_mm = _placed(plan, scene, room)
        line_mm = room.cell[1] / scale
        if plan.project.start.flat:
            top = scene.box[1]
        else:
            top = _top(scene, made, line_mm, room.lines)
            scene = _hung(scene, plan, room, (scale, left_mm), top + room.lines * line_mm)
        right_mm = left_mm + room.columns * room.cell[0] / scale
        return [
            self._tile(part, line, lines, room)
            for line, lines, part in _bands(scene, (left_mm, top, right_mm), room, line_mm)
        ]

    def _tile(self, part: Scene, line: int, lines: int, room: BoardArea) -> Tile:
        size = room.columns * room.cell[0], lines * room.cell[1]
        return Tile(line, lines, render_part(part, self._looks, size, self._ground))


def _placed(plan: Plan, scene: Scene, room: BoardArea) -> tuple[float, float]:
    """Return the pixels per millimetre, and how far left of the middle the room begins."""
    across, high = room.columns * room.cell[0], room.lines * room.cell[1]
    left, top, right, bottom = scene.box
    if plan.project.start.flat or not room.at:
        scale = min(across / (right - left), high / (bottom - top))
        return scale, (left + right) / 2 - across / 2 / scale
    columns = sorted(room.at.values())
    wide = (columns[-1] - columns[0]) / max(1, len(columns) - 1) * room.cell[0]
    strand_mm = 2 * scene.half_mm / len(scene.finish)
    thickest = _THICKEST * room.cell[1] / max(plan.places.contact_mm)
    scale = min(wide / strand_mm, thickest) if len(columns) > 1 else thickest
    middle = (columns[0] + columns[-1] + room.wide) / 2 * room.cell[0]
    return scale, -middle / scale


def _top(scene: Scene, made: int, line_mm: float, lines: int) -> float:
    """Return the height at which the room begins: a whole number of tiles, the tie in view."""
    tile_mm = TILE_LINES * line_mm
    first = floor(scene.box[1] / tile_mm)
    hands = next((tie.box[3] for tie in reversed(scene.ties) if tie.count == made - 1), 0.0)
    least = hands + (_BELOW - 1) * lines * line_mm
    return max(first, ceil(least / tile_mm)) * tile_mm


def _hung(
    scene: Scene, plan: Plan, room: BoardArea, placed: tuple[float, float], bottom: float
) -> Scene:  # fmt: skip
    """Let the strands hang down to their numbers, the knotters in front of a highlight."""
    if scene.made >= plan.total:
        return scene
    scale, left_mm = placed
    count = plan.counts[scene.made]
    runs: list[Run] = []
    for run in scene.runs:
        column = room.at.get(run.strand) if run.count == scene.made else None
        if column is not None and run.strand in scene.finish and run.start[1] < bottom:
            x = left_mm + (column + room.wide / 2) * room.cell[0] / scale
            low = min(bottom, run.start[1] + max(2 * abs(x - run.start[0]), 4 * run.width_mm))
            runs.append(replace(run, start=(x, low), end=(x, bottom)))
            run = replace(run, end=(x, low))  # noqa: PLW2901 - the same strand as far as it bends
            if count.knot and run.strand in count.knotters:
                wide = _LIT * run.width_mm
                runs.append(replace(run, strand=len(scene.cords), width_mm=wide, layer=-1))
        runs.append(run)
    return replace(scene, cords=(*scene.cords, _HANDS), runs=tuple(runs))


def _bands(
    scene: Scene, box: tuple[float, float, float], room: BoardArea, line_mm: float
) -> Iterator[tuple[int, int, Scene]]:
    """Yield each band of the room: its first line, how many it has, and what lies in it."""
    left, top, right = box
    for line in range(0, room.lines, TILE_LINES):
        lines = min(TILE_LINES, room.lines - line)
        high, low = top + line * line_mm, top + (line + lines) * line_mm
        yield line, lines, _within(scene, (left, high, right, low))


def _within(scene: Scene, box: Box) -> Scene:
    """Return the part of a scene inside a box."""
    lit = len(scene.cords) - 1 if scene.cords[-1:] == (_HANDS,) else -1
    over = _OVER * max([run.width_mm for run in scene.runs if run.strand != lit], default=1.0)
    high, low = box[1] - over, box[3] + over

    def seen(top: float, bottom: float) -> bool:
        return top < low and bottom > high

    return replace(
        scene,
        box=box,
        ties=tuple([t for t in scene.ties if seen(t.box[1], t.box[3])]),
        runs=tuple([_clipped(r, high, low) for r in scene.runs if seen(r.start[1], r.end[1])]),
        mounts=tuple([t for t in scene.mounts if seen(t.box[1], t.box[3])]),
        fittings=tuple([f for f in scene.fittings if seen(f.box[1], f.box[3])]),
    )


def _clipped(run: Run, high: float, low: float) -> Run:
    """Cut a straight strand off beyond a band, so that the band is independent of the rest."""
    (x, top), (end, bottom) = run.start, run.end
    if abs(end - x) > _STRAIGHT_MM or run.bulge_mm:
        return run
    return replace(run, count=0, start=(x, max(top, high)), end=(x, min(bottom, low)))
