"""Makes the pictures of the README by running the program: python tests/docs/make_pictures.py.

Screens are exported as SVG without the fonts that they would fetch from elsewhere.
"""

import asyncio
import re
import tempfile
from pathlib import Path

from coach.card.cord_paths import yarns
from coach.card.frame import frame_of
from coach.card.schematic import schematic
from coach.card.step_drawing import step_picture
from coach.card.style import STYLE
from coach.cli.desk import Desk
from coach.cli.shelf import find
from coach.piece import Store
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.tui.app import BenchApp
from coach.yaml_reader.file_loader import load

PICTURES = Path(__file__).parent.parent.parent / ".pictures"
SIZE = (100, 30)


class StillClock:
    """A clock at which a sitting began this morning and goes on evenly."""

    now = 1_900_000_000_000

    def now_ms(self) -> int:
        """Return the same moment, a little later each time that something is counted."""
        return self.now

    def tick_ms(self) -> int:
        """Return the same reading."""
        return self.now


def without_fonts(svg: str) -> str:
    """Return a screen's picture without remote fonts; the reader's own will do."""
    local = re.sub(r"@font-face \{[^}]*\}|<!--.*?-->", "", svg, flags=re.DOTALL)
    return re.sub(r"Fira Code", "DejaVu Sans Mono", local).replace(
        "<svg ", '<svg xml:space="preserve" ', 1
    )


async def screen(project: str, counts: int, name: str, *keys: str) -> None:
    """Open a project on the bench, count so many ties, press some keys and keep the picture."""
    with tempfile.TemporaryDirectory() as folder, Store(Path(folder) / "coach.db") as store:
        clock = StillClock()
        on_bench = Desk(store, clock).begin(project)
        for _ in range(counts):
            clock.now += 14_000
            on_bench.sitting.count()
        app = BenchApp(on_bench=on_bench)
        async with app.run_test(size=SIZE) as pilot:
            await pilot.press(*keys)
            await pilot.pause()
            PICTURES.joinpath(f"{name}.svg").write_text(
                without_fonts(app.export_screenshot()), encoding="utf-8"
            )


def plan_of(project: str) -> Plan:
    """Return a shipped project's plan."""
    plan = read_plan(load(find(project).path).text or "").plan
    if plan is None:
        raise SystemExit(f"{project} is not sound")
    return plan


def drawings() -> None:
    """Keep one row as the card draws it, and one finished piece at scale."""
    plan = plan_of("tide-band")
    step = next(s for s in plan.steps if s.role == "row" and len(s.groups[0]) == len(s.before))
    row = step_picture(plan, step, frame_of(step, None), yarns(plan.project), "A row as drawn")
    style = re.sub(r"@media.*", "", STYLE, flags=re.DOTALL) + "svg{background:#fff}"
    whole = (row or "").replace("<title>", f"<style>{style}</style><title>", 1)
    alone = whole.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
    PICTURES.joinpath("row.svg").write_text(alone + "\n", encoding="utf-8")
    hanging = schematic(plan_of("shoreline-hanging"), alone=True)
    PICTURES.joinpath("hanging.svg").write_text(hanging + "\n", encoding="utf-8")


if __name__ == "__main__":
    PICTURES.mkdir(exist_ok=True)
    asyncio.run(screen("tide-band", 21, "bench"))
    asyncio.run(screen("tide-band", 21, "how", "k"))
    drawings()
