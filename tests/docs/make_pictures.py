"""Makes the pictures of the README by running the program: python tests/docs/make_pictures.py.

Screens are exported as SVG without the fonts that they would fetch from elsewhere.
"""

import asyncio
import re
import tempfile
from pathlib import Path

from first_minute import Shot, moving

from coach.card.place_range import frame_of
from coach.card.step_drawing import step_picture
from coach.card.style import ALONE
from coach.cli.manual.pages import page_source
from coach.cli.manual.step_pictures import snippet_plan, snippets
from coach.cli.project_finder import find_project
from coach.cli.workshop.workshop import Workshop
from coach.picture.compose import scene_of
from coach.picture.render.shades import looks_of
from coach.picture.render.svg_drawing import colour_classes, render_svg
from coach.piece import Store
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.tui.app import BenchApp
from coach.yaml_reader.file_loader import load

PICTURES = Path(__file__).parent.parent.parent / ".pictures"
STEPS = PICTURES / "steps"
SIZE = (100, 30)
FIRST_SIZE = (80, 24)


class StillClock:
    """A clock at which a sitting began this morning and goes on evenly."""

    now = 1_900_000_000_000

    def now_ms(self) -> int:
        """Return the same moment, a little later each time that something is counted."""
        return self.now

    def tick_ms(self) -> int:
        """Return the same reading."""
        return self.now

    def tick_at(self, monotonic_s: float) -> int:
        """Return the same reading for any moment."""
        del monotonic_s
        return self.now


def without_fonts(svg: str) -> str:
    """Return a screen's picture without remote fonts; the reader's own will do."""
    local = re.sub(r"@font-face \{[^}]*\}|<!--.*?-->", "", svg, flags=re.DOTALL)
    return re.sub(r"Fira Code", "DejaVu Sans Mono", local).replace(
        "<svg ", '<svg xml:space="preserve" ', 1
    )


async def screen(project: str, counts: int, *keys: str) -> str:
    """Open a project on the bench, count so many ties, press some keys and give the picture."""
    with tempfile.TemporaryDirectory() as folder, Store(Path(folder) / "coach.db") as store:
        clock = StillClock()
        on_bench = Workshop(store, clock).begin(project)
        for _ in range(counts):
            clock.now += 14_000
            on_bench.sitting.count()
        app = BenchApp(on_bench=on_bench)
        async with app.run_test(size=SIZE) as pilot:
            await pilot.press(*keys)
            await pilot.pause()
            return without_fonts(app.export_screenshot())


# What is pressed before each screen of the first minute, how long it stays, and what it shows.
FIRST_MINUTE = (
    ((), 2.5, "the list of pieces and projects"),
    (("enter",), 3.5, "what the reed keyring takes"),
    (("enter",), 2.5, "the bench"),
    (("space",), 1.2, "one step made"),
    (("space",), 1.2, "the next"),
    (("k",), 3.0, "how the knot is tied"),
    (("escape",), 1.0, "back at the bench"),
    (("space",), 1.0, "a knot counted"),
    (("space",), 1.0, "and another"),
    (("backspace",), 1.5, "one taken back"),
    (("c",), 3.0, "the cord left on every strand"),
    (("escape", "space", "space"), 3.0, "and on"),
)


async def first_minute() -> str:
    """Walk from the list into the first knots, and return it as one moving picture."""
    shots: list[Shot] = []
    with tempfile.TemporaryDirectory() as folder, Store(Path(folder) / "coach.db") as store:
        clock = StillClock()
        app = BenchApp(shelf=Workshop(store, clock))
        async with app.run_test(size=FIRST_SIZE) as pilot:
            for keys, seconds, shows in FIRST_MINUTE:
                for key in keys:
                    clock.now += 9_000
                    await pilot.press(key)
                    await pilot.pause(0.2)  # no bounce
                await pilot.pause(0.2)  # the mark of the list rests
                await app.workers.wait_for_complete()
                await pilot.pause()
                shots.append(Shot(without_fonts(app.export_screenshot()), seconds, shows))
    return moving(shots)


def plan_of(project: str) -> Plan:
    """Return a shipped project's plan."""
    plan = read_plan(load(find_project(project).path).text or "").plan
    if plan is None:
        raise SystemExit(f"{project} is not sound")
    return plan


def one_row() -> str:
    """Draw one row as the card does, in a file of its own."""
    plan = plan_of("tide-band")
    step = next(s for s in plan.steps if s.role == "row" and len(s.groups[0]) == len(s.before))
    row = step_picture(plan, step, frame_of(step, None), looks_of(plan.project), "A row as drawn")
    return standing_alone(row[0] if row else "", f"{ALONE}{colour_classes(looks_of(plan.project))}")


def standing_alone(drawing: str, style: str) -> str:
    """Return a drawing of the page with the style that it has there, on white paper."""
    found = re.search('viewBox="([^"]+)"', drawing)
    if not found:
        raise SystemExit(f"this is no drawing: {drawing[:80]}")
    left, top, width, height = found[1].split()
    paper = f'<rect x="{left}" y="{top}" width="{width}" height="{height}" fill="#ffffff"/>'
    return drawing.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1).replace(
        "</title>", f"</title><style>{style}</style>{paper}", 1
    )


def piece(project: str) -> str:
    """Return the picture of a finished piece, with its ruler."""
    plan = plan_of(project)
    return render_svg(scene_of(plan), looks_of(plan.project), plan.project.title)


def pictures() -> dict[str, str]:
    """Return every picture of the README by its name."""
    return {
        "bench": asyncio.run(screen("tide-band", 21)),
        "how": asyncio.run(screen("tide-band", 21, "k")),
        "row": one_row(),
        "hanging": piece("shoreline-hanging"),
        "hanger": piece("marsh-pot-hanger"),
        "keyring": piece("reed-keyring"),
    }


def steps() -> dict[str, str]:
    """Return the pictures of the manual's page on steps by their names."""
    return {name: one_kind(text) for text, name in snippets(page_source("steps")) if name}


def one_kind(text: str) -> str:
    """Draw a step as the card does, and several as the piece that they make."""
    plan = snippet_plan(text)
    looks = looks_of(plan.project)
    if len(plan.steps) == 1:
        found = step_picture(plan, plan.steps[0], frame_of(plan.steps[0], None), looks, "Step")
        return standing_alone(found[0] if found else "", f"{ALONE}{colour_classes(looks)}")
    return render_svg(scene_of(plan), looks, "Step", plain=True)


if __name__ == "__main__":
    STEPS.mkdir(parents=True, exist_ok=True)
    for name, text in steps().items():
        STEPS.joinpath(f"{name}.svg").write_text(text.strip() + "\n", encoding="utf-8")
    minute = {"minute": asyncio.run(first_minute())}
    for name, text in (pictures() | minute).items():
        PICTURES.joinpath(f"{name}.svg").write_text(text.strip() + "\n", encoding="utf-8")
