"""Projects read and planned in the maker's hands, as her earlier pieces show them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from coach.cli.project_finder import FoundProject, NoSuchProject, find_project, shipped_projects
from coach.desk.order_start import Begins
from coach.pace import Paces
from coach.piece import Store
from coach.piece.beliefs import Beliefs, hands_of
from coach.piece.learning.carry_over import carry_over
from coach.piece.learning.estimates import in_hands
from coach.piece.reports.forecast import Forecast
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan, remeasured
from coach.plan.resize.own_wish import refitted_to_own_wish
from coach.plan.resize.refit import CannotRefit, Refitted, as_wished, recompiled
from coach.plan.resize.size_request import Wish
from coach.plan.tension import NOMINAL, Hands
from coach.project.model import Project
from coach.session.adjusting.fitting import FittingController
from coach.session.ports import CannotOpen, ProjectOffer
from coach.text import one_line
from coach.yaml_reader.diagnostics import Problem
from coach.yaml_reader.file_loader import Loaded, load
from coach.yaml_reader.render import as_lines


class FaultyProject(CannotOpen):
    """A project file with errors; `lines` report all of them."""

    def __init__(self, path: Path, lines: Sequence[str]) -> None:
        super().__init__(f"{one_line(str(path))} has problems: {lines[0] if lines else ''}")
        self.lines = tuple(lines)


@dataclass(frozen=True, slots=True)
class SoundProject:
    """A project without errors: its text and its plan."""

    text: str
    plan: Plan


@dataclass(frozen=True, slots=True)
class PieceStart:
    """What a new piece starts with.

    Attributes:
        sound: The project as it is written.
        source: The key of the project.
        base: The plan that the piece is worked by: fitted, in the likely hands.
        wish: How it is fitted, by its own wish too; None where it is worked as written.
        paces: The maker's paces.
        beliefs: The prior of cords and knots.
    """

    sound: SoundProject
    source: str
    base: Plan
    wish: Wish | None
    paces: Paces
    beliefs: Beliefs


class ProjectPlans:
    """Reads projects by path or shelf name, cached until their text changes."""

    def __init__(self, store: Store, skill: Callable[[], str]) -> None:
        """Set the store of earlier pieces, and what returns the maker's skill."""
        self._store = store
        self._skill = skill
        self._read: SoundProject | None = None  # the project that was read last
        self._aim: tuple[tuple[Project, Hands], Refitted | None] | None = None

    def offers(self) -> Sequence[ProjectOffer]:
        """Return the shipped projects that can be begun."""
        offers = []
        for path in shipped_projects():
            plan = plan_of_text(load(path).text or "")
            if plan:
                project = plan.project
                offers.append(
                    ProjectOffer(path.stem, project.title, project.about, project.skill, plan.total)
                )
        return offers

    def plan(self, key: str, cords: Wish | None = None) -> Plan:
        """Return the plan of a project, fitted to its own wish.

        Args:
            key: The project.
            cords: Cords of other diameters that are wished for, whose hands are then used.

        Raises:
            CannotOpen: It cannot be read.
        """
        plan = self._sound(_found(key)).plan
        looked = _wished(plan, cords)
        plan = _in_hands(plan, carry_over(self._store, looked.project, looked).beliefs)
        found = self._aimed(plan)
        return found.plan if found else plan

    def fitting(self, key: str) -> FittingController:
        """Return the fitting of a project. Raises CannotOpen, PieceError."""
        written = self._sound(_found(key)).plan
        carried = carry_over(self._store, written.project, written, self._skill())
        own = _in_hands(written, carried.beliefs)
        found = self._aimed(own)
        return FittingController(found.plan if found else own, carried.paces, written, self._hands)

    def to_start(self, key: str, wish: Wish | None, plan: Plan | None = None) -> PieceStart:
        """Return what a new piece starts with; `wish` comes before the project's own.

        Args:
            key: The project.
            wish: How it is to be fitted, if at all.
            plan: The plan of the wish, if it is compiled already.

        Raises:
            CannotOpen, PieceError: It cannot be read or fitted.
        """
        found = _found(key)
        seen, sound = self._read, self._sound(found)
        wished = plan if plan and sound is seen else _wished(sound.plan, wish)
        carried = carry_over(self._store, wished.project, wished, self._skill())
        own = self._aimed(_in_hands(sound.plan, carried.beliefs))
        if own and (wish is None or not wish.speaks_of(_varied(sound.plan))):
            wish = own.wish.also(wish) if wish else own.wish
            wished = _wished(sound.plan, wish)
        base = _in_hands(wished, carried.beliefs)
        paces = Forecast(sound.plan).prior(carried.paces)
        return PieceStart(sound, found.key, base, wish, paces, carried.beliefs)

    def begins(self, key: str) -> Begins:
        """Return what every piece of a project begins with. Raises CannotOpen, PieceError."""
        found = _found(key)
        sound = self._sound(found)
        carried = carry_over(self._store, sound.plan.project, sound.plan, self._skill())
        return Begins(
            sound.plan.project.title, sound.text, found.key, sound.plan.total,
            Forecast(sound.plan).prior(carried.paces), carried.beliefs,
        )  # fmt: skip

    def _hands(self, project: Project) -> Hands:
        """Return the hands for a project's cords. Raises PieceError."""
        return hands_of(carry_over(self._store, project).beliefs)

    def _aimed(self, plan: Plan) -> Refitted | None:
        """Return a plan refitted to its project's own wish, cached for one project."""
        asked = (plan.project, plan.hands)
        if self._aim is None or self._aim[0] != asked:
            self._aim = (asked, refitted_to_own_wish(plan))
        return self._aim[1]

    def _sound(self, found: FoundProject) -> SoundProject:
        """Read a project, cached until its text changes. Raises Unsound for errors."""
        loaded = load(found.path)
        if self._read is None or loaded.text is None or loaded.text != self._read.text:
            self._read = _sound(found, loaded)
        return self._read


def plan_of_text(text: str) -> Plan | None:
    """Return the plan of a project's text, None where it has errors."""
    return read_plan(text).plan


def _varied(plan: Plan) -> str:
    """Return the part or named step that a project changes to reach another length."""
    return plan.project.size.vary if plan.project.size else ""


def _in_hands(plan: Plan, beliefs: Beliefs) -> Plan:
    """Return a plan in the likely hands by these beliefs; without any, in the usual ones."""
    if beliefs:
        return in_hands(plan, beliefs)
    return remeasured(plan, NOMINAL) if plan.hands.sds else plan


def _wished(plan: Plan, wish: Wish | None) -> Plan:
    """Return the plan of a wish. Raises CannotOpen."""
    if not wish:
        return plan
    try:
        return recompiled(as_wished(plan.project, wish), plan.hands)
    except CannotRefit as error:
        raise CannotOpen(str(error)) from error


def _found(key: str) -> FoundProject:
    try:
        return find_project(key)
    except NoSuchProject as error:
        raise CannotOpen(str(error)) from error


def _sound(found: FoundProject, loaded: Loaded) -> SoundProject:
    """Return a project's text and plan. Raises Unsound where its file has errors."""
    problems: tuple[Problem, ...] = loaded.problems
    if loaded.text is not None:
        reading = read_plan(loaded.text)
        if reading.plan is not None:
            return SoundProject(loaded.text, reading.plan)
        problems = (*problems, *reading.problems)
    raise FaultyProject(found.path, as_lines(str(found.path), loaded.text or "", problems))
