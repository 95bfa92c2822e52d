"""The app of `coach desk`, which shows the order desk alone."""

from coach.session.view_model import OrderDesk
from coach.tui.base_app import PaletteApp
from coach.tui.drawing.cells import ASCII, Glyphs
from coach.tui.layout.styled_text import Inks
from coach.tui.order_desk.desk_screen import DeskScreen
from coach.tui.theme.palette import Palette


class DeskApp(PaletteApp):
    """Shows the order desk until the maker leaves it."""

    def __init__(self, inks: Inks, desk: OrderDesk) -> None:
        """Set the styles, and the desk."""
        super().__init__(inks.palette)
        self.desk_screen = DeskScreen(inks, desk)

    async def on_mount(self) -> None:
        """Open the desk; leaving it ends the app."""
        self.push_screen(self.desk_screen, lambda _: self.exit(0))


def run_desk(desk: OrderDesk, palette: Palette, glyphs: Glyphs) -> int:
    """Show the order desk until the maker leaves it, and return the exit status."""
    return DeskApp(Inks(palette, plain=glyphs is ASCII), desk).run() or 0
