"""What the pages show is true: every command runs, every example is sound, every key is told."""

import io
import re
import shlex
import signal
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import NamedTuple

import pytest
from processes import Started

import coach
from coach.cli import main
from coach.plan.from_text import read_plan, with_advice
from coach.project.schema.manual_tables import tables, with_tables

TOP = Path(coach.__file__).parent.parent
PAGES = (TOP / "README.md", *sorted((TOP / "coach" / "pages").glob("*.md")))
SHOWN = re.compile(r"(?:`|^)(coach(?: [^`\n]+)?)(?:`|$)", re.MULTILINE)
NAMED_ONLY = re.compile(r"FILE|ORDER|^coach (check|new|card|words|plan|export|import|remove|knot)$")
COMMANDS = sorted(
    {
        command
        for page in PAGES
        for command in SHOWN.findall(page.read_text("utf-8"))
        if not NAMED_ONLY.search(command)
    }
)
NEEDS_A_TERMINAL = ("coach", "coach keys", "coach knot", "coach desk")


class Ended(NamedTuple):
    """How a command ended, and what it wrote."""

    returncode: int
    stdout: str
    stderr: str


def blocks(kind: str) -> list[tuple[str, str]]:
    """Return every block of a kind in the pages, with its page's name."""
    return [
        (page.name, found)
        for page in PAGES
        for found in re.findall(rf"```{kind}\n(.*?)```", page.read_text("utf-8"), re.DOTALL)
    ]


def worked_example() -> str:
    return next(text for name, text in blocks("yaml") if name == "writing.md")


def run(command: str, folder: Path, answers: str = "") -> Ended:
    """Run a command in this process, as where nothing is a terminal."""
    out, errors = io.StringIO(), io.StringIO()
    with pytest.MonkeyPatch.context() as at_home, redirect_stdout(out), redirect_stderr(errors):
        at_home.setenv("COACH_HOME", str(folder / "home"))
        at_home.chdir(folder)
        at_home.setattr(sys, "stdin", io.StringIO(answers))
        try:
            status = main.main(shlex.split(command)[1:])
        except SystemExit as ended:
            status = int(ended.code or 0)
    return Ended(status, out.getvalue(), errors.getvalue())


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the files that the pages speak of."""
    folder = tmp_path_factory.mktemp("desk")
    for name in ("my-belt.yaml", "my-strap.yaml"):
        (folder / name).write_text(worked_example(), encoding="utf-8")
    return folder


def test_the_pages_show_commands() -> None:
    assert len(COMMANDS) > 15


def test_every_command_shown_runs(desk: Path) -> None:
    """One after the other on one desk, as some take up what others have begun."""
    failed = {command: why for command in COMMANDS if (why := refused(command, desk))}
    assert not failed


def refused(command: str, desk: Path) -> str:
    """Return what a command says where it does not do what the pages show it for."""
    if command.startswith("coach new"):
        (desk / command.rsplit(maxsplit=1)[-1]).unlink(missing_ok=True)
    if "--watch" in command:
        return "" if watched(command, desk) else "it does not watch"
    if command.startswith("coach knot"):
        command += " --plain"
    for card in desk.glob("*.html"):
        card.unlink()
    done = run(command, desk, answers="\n" * 12)
    if command in NEEDS_A_TERMINAL:
        fits = done.returncode == 2 and "terminal" in done.stderr
    elif command.startswith("coach remove"):
        fits = done.returncode in (1, 2)  # asked, and not answered; or there is none
    elif re.match(r"coach (export|import|mend)", command):
        fits = done.returncode in (0, 2)  # nothing has been exported yet
    elif "--copies" in command and "--order" in command:
        fits = done.returncode in (0, 2)  # several pages begin an order of that name
    else:
        fits = (done.returncode, done.stderr) == (0, "")
    return "" if fits else f"{done.returncode}: {done.stderr}"


def watched(command: str, folder: Path) -> bool:
    """Start watching, wait for the first report, and end it as a maker would."""
    with Started([sys.executable, "-m", *shlex.split(command)], cwd=folder) as watching:
        assert watching.stdout
        told = any("sound" in line for line in watching.stdout)
        watching.send_signal(signal.SIGINT)
        return told and watching.wait() == 0


PROJECTS = [
    (page, text) for page, text in blocks("yaml") if re.match("coach:|cords:|measured:", text)
]


@pytest.mark.parametrize(("page", "text"), PROJECTS)
def test_every_example_is_sound_and_gets_no_word_from_a_colleague(page: str, text: str) -> None:
    if text.startswith("cords:"):
        text = re.sub(r"cords:\n(?:  .*\n)+", lambda _: text, worked_example())
    elif text.startswith("measured:"):
        text = f"{worked_example()}{text}"
    reading = with_advice(read_plan(text))
    assert reading.plan, page
    assert not reading.problems


def test_the_page_on_writing_tells_every_key_as_it_is_declared() -> None:
    """`python tests/docs/write_declared.py` writes its tables anew."""
    text = (TOP / "coach" / "pages" / "writing.md").read_text(encoding="utf-8")
    assert with_tables(text) == text
    assert text.count("| key | what it says |") == len(list(tables()))


def test_every_picture_shown_is_there_and_fetches_nothing() -> None:
    readme = (TOP / "README.md").read_text(encoding="utf-8")
    shown = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", readme)
    assert len(shown) >= 3
    for name in shown:
        picture = (TOP / name).read_text(encoding="utf-8")
        assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)|@font-face|url\(h", picture)


def test_every_link_leads_somewhere() -> None:
    for page in PAGES:
        for link in re.findall(r"(?<!!)\[[^\]]+\]\(([^)#]+)\)", page.read_text("utf-8")):
            assert (page.parent / link).exists(), link
