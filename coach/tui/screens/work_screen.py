"""The screen beside the board: takes the keys and shows what has become of them."""

from collections.abc import Callable
from typing import Final

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.strip import Strip

from coach.session import unsaved
from coach.session.announcer import Spoken
from coach.session.controller import Work
from coach.session.view_model import View
from coach.tui.drawing.cells import Glyphs
from coach.tui.layout.strip_view import Shown
from coach.tui.layout.styled_text import Inks
from coach.tui.layout.work_layout import Face
from coach.tui.screens.bench_screen import BenchScreen

_SECOND_RING_S: Final = 0.25


class WorkScreen(BenchScreen[None]):
    """One piece on the bench. Nothing here takes the focus, so every key comes to the screen."""

    AUTO_FOCUS = ""
    DEFAULT_CSS = """
    WorkScreen { overflow: hidden hidden; }
    WorkScreen > #face { width: 100%; height: 100%; }
    """

    def __init__(self, work: Work, inks: Inks, glyphs: Glyphs) -> None:
        super().__init__()
        self._work = work
        self._glyphs = glyphs
        self._face = Face(work.plan, inks.of(work.plan), work.keys, glyphs)
        self._spoken = Spoken(work.plan, work.settings.speech_every)
        self._seen: View | None = None
        self._sheet = Shown(self._drawn, "face", self._first_drawn)

    def compose(self) -> ComposeResult:
        """Yield the one widget that shows everything."""
        yield self._sheet

    def on_mount(self) -> None:
        """Begin to show the time."""
        self.set_interval(1, self._follow_time)
        if self._work.aids.awake:
            self._work.aids.awake.begin()
        self._speak()

    def on_unmount(self) -> None:
        """Let the display sleep again."""
        if self._work.aids.awake:
            self._work.aids.awake.end()

    def on_resize(self) -> None:
        """Follow the terminal's size."""
        self.show()

    def on_screen_resume(self) -> None:
        """Show again what another screen has covered."""
        self.show()

    def on_key(self, event: events.Key) -> None:
        """Do what the key asks; a count is stored before it is shown."""
        action = self._work.action(event.key)
        if action is None:
            return
        event.stop()
        event.prevent_default()
        if action == "leave":
            self.leave()
        elif action in ("cords", "plan", "help", "legend"):
            self._turn_to(action)
        elif action in ("measure", "otherwise"):
            self._ask(action)
        elif action in ("more", "fewer"):
            self._say_of(self._work.otherwise().repeats(1 if action == "more" else -1))
            self.show()
        elif action in ("before", "ahead", "unpick", "goto", "note", "how"):
            self._open(action)
        elif action == "say":
            self._say_again()
        else:
            self._ring(self._work.act(action, event.time))
            self.show()
            self._speak()

    def show(self) -> None:
        """Draw everything anew for the size that there is, unless another screen covers it."""
        if self.app.screen is not self:
            return
        if self._work.stale:
            self._take_up(self._work.anew())
        voice = self._work.aids.voice
        self._work.unspoken = (voice.trouble() if voice else "") or self._work.unspoken
        self._sheet.show()

    def _follow_time(self) -> None:
        """Show what time has changed, if it has changed something that is to be seen."""
        voice = self._work.aids.voice
        if self.is_current and (self._work.view() != self._seen or (voice and voice.failed)):
            self.show()

    def _first_drawn(self, width: int, height: int) -> list[Strip]:
        return self._face.first(self._work.view(first=True), width, height)

    def _drawn(self, width: int, height: int) -> list[Strip]:
        self._seen = self._work.view()
        return self._face.lines(self._seen, width, height)

    @property
    def work(self) -> Work:
        """The piece as it is worked on now."""
        return self._work

    def leave(self) -> None:
        """Leave the piece for the list, or the coach where there is none."""
        self._work.leave()
        if unsaved.must_ask(self._work.sitting):
            from coach.tui.screens.unsaved_screen import TroubleScreen

            self.app.push_screen(TroubleScreen(self._work.sitting, self._face.inks), self._left)
        else:
            self._left(leaving=True)

    def _left(self, leaving: bool | None) -> None:
        if not leaving:
            return
        if len(self.app.screen_stack) > 2:  # noqa: PLR2004 - the app's own, and this one
            self.dismiss(None)
        else:
            self.app.exit(0)

    def _take_up(self, work: Work) -> None:
        """Go on with a plan that has followed what happened."""
        self._work = work
        self._face = Face(work.plan, self._face.inks.of(work.plan), work.keys, self._glyphs)
        self._spoken = Spoken(work.plan, work.settings.speech_every)

    def _say_of(self, said: str) -> None:
        self._work.message, self._work.unspoken = said, ""

    def _ask(self, action: str) -> None:
        """Ask what was measured, or went otherwise; a measure is answered with a page."""
        from coach.tui.pages.measure_page import measure_lines
        from coach.tui.pages.plan_pages import foot
        from coach.tui.screens.deviations_screen import measure_screen, otherwise_screen
        from coach.tui.screens.page_screen import PageScreen

        inks, asked = self._face.inks, self._work.otherwise()
        screen = (measure_screen if action == "measure" else otherwise_screen)(asked, inks)

        def answered(said: str | None) -> None:
            if not said:
                return
            self._say_of(said)
            self.show()
            if action == "measure":
                told, units = self._work.otherwise(), self._work.settings.units
                keys = foot(inks, ("escape", "back"))
                page = PageScreen(
                    inks, lambda width: measure_lines(told, inks, width, said, units), keys
                )
                self.app.push_screen(page)

        self.app.push_screen(screen, answered)

    def _open(self, action: str) -> None:
        """Open a screen that has keys of its own."""
        work, inks = self._work, self._face.inks
        work.message = work.unspoken = ""  # of the last key; it stands in the way of others
        if action == "before":
            from coach.tui.screens.preparation_screen import BeforeScreen

            self.app.push_screen(BeforeScreen(work, inks))
        elif action == "note":
            from coach.tui.screens.notes_screen import NotesScreen

            self.app.push_screen(NotesScreen(work, inks))
        elif action == "how":
            from coach.tui.screens.knot_help_screen import HowScreen

            self.app.push_screen(HowScreen(work.plan, work.done, inks, self._glyphs, work.keys))
        else:
            from coach.tui.screens.look_around_screen import LookScreen

            self.app.push_screen(LookScreen(work, inks, self._glyphs, action))

    def _turn_to(self, page: str) -> None:
        from coach.report.plan_report import report_of
        from coach.tui.pages.legend import legend_lines
        from coach.tui.pages.plan_pages import cord_lines, foot, key_lines, plan_lines
        from coach.tui.pages.tension_text import known_lines
        from coach.tui.screens.page_screen import PageScreen

        work, inks = self._work, self._face.inks
        cords, order, units = work.cords(), work.order(), work.settings.units
        pages: dict[str, Callable[[int], list[Text]]] = {
            "help": lambda width: key_lines(work.keys, inks, width),
            "cords": lambda width: cord_lines(work.plan, inks, cords, order, width, units=units),
            "plan": lambda width: plan_lines(
                report_of(work.plan, unit=units), inks, width, known_lines(work.plan)
            ),
            "legend": lambda width: legend_lines(work.plan, inks, self._glyphs, width),
        }
        self.app.push_screen(PageScreen(inks, pages[page], foot(inks, ("escape", "back"))))

    def _speak(self) -> None:
        """Say what there is to say, if the maker wants that; it never waits."""
        voice = self._work.aids.voice
        if voice and self._work.settings.speech:
            voice.say(self._spoken.words(self._work.view()))

    def _say_again(self) -> None:
        voice = self._work.aids.voice
        if voice:
            voice.say(self._spoken.again(self._work.view()))
        self.show()

    def _ring(self, ring: str) -> None:
        """Sound the bell once at the end of a step and twice at the end of a repeat."""
        settings = self._work.settings
        if not (settings.bell_repeat if ring == "repeat" else settings.bell_step and ring):
            return
        self.app.bell()
        if ring == "repeat":
            self.set_timer(_SECOND_RING_S, self.app.bell)
