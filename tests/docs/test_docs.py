"""What the pages show is true: every command runs, every example is sound, every key is told."""

import re
import shlex
import shutil
import signal
import sys
from pathlib import Path

import pytest
from command_line import coach
from processes import ROOT, Completed, Started

from coach.plan.from_text import read_plan
from coach.plan.wording.advice import with_advice
from coach.project.schema.manual_tables import tables, with_tables

PAGES = (ROOT / "README.md", *sorted((ROOT / "coach" / "pages").glob("*.md")))
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
BEGINNING = (
    'coach knot my-belt.yaml --name "for the shop"',
    "coach knot reed-keyring --copies 12 --order stall",
    "coach stock add '25 mm split ring' --number 40 --price '2 per 10'",
    "coach stock add 'clay cotton 2 mm' --hank '100 m' --price '14 per 100 m'",
)


def blocks(kind: str) -> list[tuple[str, str]]:
    """Return every block of a kind in the pages, with its page's name."""
    return [
        (page.name, found)
        for page in PAGES
        for found in re.findall(rf"```{kind}\n(.*?)```", page.read_text("utf-8"), re.DOTALL)
    ]


def worked_example() -> str:
    return next(text for name, text in blocks("yaml") if name == "writing.md")


def run(command: str, folder: Path, answers: str = "") -> Completed:
    """Call a command in a folder with a home in it."""
    at_home = {"COACH_HOME": str(folder / "home")}
    return coach(*shlex.split(command)[1:], typed=answers, cwd=folder, environment=at_home)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the files that the pages speak of, and nothing begun."""
    folder = tmp_path_factory.mktemp("desk")
    for name in ("my-belt.yaml", "my-strap.yaml"):
        (folder / name).write_text(worked_example(), encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def busy_desk(desk: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return such a folder where a piece and an order are begun, and cord and rings in stock."""
    folder = shutil.copytree(desk, tmp_path_factory.mktemp("busy") / "desk")
    for command in BEGINNING:
        assert refused(command, folder) == ""
    return folder


def test_the_pages_show_commands() -> None:
    assert len(COMMANDS) > 15


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_shown_does_what_the_pages_show_it_for(
    command: str, desk: Path, busy_desk: Path, tmp_path: Path
) -> None:
    """Those that begin something on a desk where nothing is, all others where it is begun."""
    begins = command.startswith(("coach knot", "coach new", "coach stock add"))
    here = shutil.copytree(desk if begins else busy_desk, tmp_path / "desk")
    assert refused(command, here) == ""


def refused(command: str, desk: Path) -> str:
    """Return what a command says where it does not do what the pages show it for."""
    if "--watch" in command:
        return "" if watched(command, desk) else "it does not watch"
    if command.startswith("coach new"):
        (desk / command.rsplit(maxsplit=1)[-1]).unlink()
    if command.startswith("coach knot"):
        command += " --plain"
    done = run(command, desk, answers="y\n" if "remove" in command else "\n" * 12)
    if command in NEEDS_A_TERMINAL:
        fits = done.returncode == 2 and "terminal" in done.stderr
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
    text = (ROOT / "coach" / "pages" / "writing.md").read_text(encoding="utf-8")
    assert with_tables(text) == text
    assert text.count("| key | what it says |") == len(list(tables()))


def test_every_picture_shown_is_there_and_fetches_nothing() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    shown = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", readme)
    assert len(shown) >= 3
    for name in shown:
        picture = (ROOT / name).read_text(encoding="utf-8")
        assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)|@font-face|url\(h", picture)


def test_every_link_leads_somewhere() -> None:
    for page in PAGES:
        for link in re.findall(r"(?<!!)\[[^\]]+\]\(([^)#]+)\)", page.read_text("utf-8")):
            assert (page.parent / link).exists(), link
