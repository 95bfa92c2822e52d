"""The screen of the order desk: the quote follows the keys."""

import asyncio

from coach.tui.desk_app import Chosen, DeskApp
from coach.tui.layout.styled_text import Inks
from coach.tui.theme.palette import DARK


def test_keys_change_project_copies_and_colourway() -> None:
    asked: list[Chosen] = []

    def told(chosen: Chosen) -> list[str]:
        asked.append(chosen)
        return [f"{chosen.copies} of {chosen.project} in {chosen.colourway}"]

    async def walk() -> None:
        ways = {"reed": ["dusk", "foam"], "tide": []}
        app = DeskApp(Inks(DARK, plain=False), list(ways), ways.__getitem__, told)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            await pilot.press("plus", "plus", "minus", "c", "c")
            assert app.chosen == Chosen("reed", 2, "foam")
            await pilot.press("c")
            assert app.chosen.colourway == ""
            await pilot.press("c", "right")
            assert app.chosen == Chosen("tide", 2, "")
            await pilot.press("left", "minus", "minus", "minus", "greater_than_sign")
            assert app.chosen == Chosen("reed", 11, "")
            await pilot.press("q")
        assert app.return_code == 0

    asyncio.run(walk())
    assert asked[-1] == Chosen("reed", 11, "")
