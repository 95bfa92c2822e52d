"""What is handed on as a package: all that runs is in it, and it runs from anywhere."""

import ast
import re
import sys
import tarfile
import zipfile
from email import message_from_string
from pathlib import Path

import pytest
from processes import run, run_python

TOP = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build both packages as an installer would, from the sources alone."""
    folder = tmp_path_factory.mktemp("built")
    build(TOP, folder)
    return folder


def build(source: Path, folder: Path, *what: str) -> None:
    command = [sys.executable, "-m", "hatchling", "build", "--directory", str(folder), *what]
    run(command, cwd=source, check=True)


def wheel(folder: Path) -> zipfile.ZipFile:
    return zipfile.ZipFile(next(folder.glob("*.whl")))


def test_the_wheel_holds_all_that_runs_and_its_licence(built: Path) -> None:
    names = set(wheel(built).namelist())
    tracked = [
        p for p in (TOP / "coach").rglob("*") if p.is_file() and "__pycache__" not in p.parts
    ]
    assert {str(path.relative_to(TOP)) for path in tracked} <= names
    shelf = {f"coach/_projects/{path.name}" for path in (TOP / "projects").glob("*.yaml")}
    assert shelf <= names
    assert "coach/py.typed" in names
    assert any(name.endswith("licenses/coach/LICENSE") for name in names)
    assert not any(name.startswith(("tests", "projects", ".")) for name in names)


def test_the_wheel_runs_from_anywhere(built: Path, tmp_path: Path) -> None:
    with wheel(built) as package:
        package.extractall(tmp_path / "site")  # noqa: S202 - built by ourselves just now
    seen = {"PYTHONPATH": str(tmp_path / "site"), "COACH_HOME": str(tmp_path / "home")}
    command = [sys.executable, "-m", "coach", "plan", "reed-keyring"]
    assert "Reed keyring" in run(command, environment=seen, cwd=tmp_path, check=True).stdout


def test_the_source_package_makes_the_same_wheel(built: Path, tmp_path: Path) -> None:
    with tarfile.open(next(built.glob("*.tar.gz"))) as source:
        source.extractall(tmp_path / "source", filter="data")
    (unpacked,) = (tmp_path / "source").iterdir()
    assert {"README.md", "DEVELOPERS.md", "tests", "projects"} <= {
        p.name for p in unpacked.iterdir()
    }
    build(unpacked, tmp_path / "again", "--target", "wheel")
    assert sorted(wheel(tmp_path / "again").namelist()) == sorted(wheel(built).namelist())


def test_what_an_index_shows_is_there_and_leads_nowhere_that_is_not(built: Path) -> None:
    package = wheel(built)
    (name,) = [name for name in package.namelist() if name.endswith("METADATA")]
    told = message_from_string(package.read(name).decode())
    assert told["License-Expression"] == "MIT"
    assert told["Author"] or told["Author-email"]
    assert told.get_all("Project-URL") is None
    needs = [line for line in told.get_all("Requires-Dist", []) if "extra" not in line]
    named = {re.split(r"[<>=]", line)[0] for line in needs}
    assert named == {"textual", "pyyaml", "platformdirs", "pint"}


ONLY_ON_POSIX = re.compile(
    r"RealTerminal\(|\bimport (?:pty|termios|fcntl|resource)\b|\bSIG(?:KILL|HUP|STOP|CONT)\b|killpg"
    r"|os\.fork\b|forkserver|mkfifo\(|symlink_to\(|\.chmod\("
)
NOT_ON_WINDOWS = ("termios", "fcntl", "tty", "pty", "resource", "pwd", "grp", "select.poll")
NEEDS_A_POSIX_TERMINAL = {"coach.tui.input.terminal_driver"}


def test_all_but_the_terminals_driver_loads_without_what_windows_lacks() -> None:
    """Run by hand on Windows it has not been; this is what can be seen of it elsewhere."""
    modules = [
        ".".join(path.relative_to(TOP).with_suffix("").parts)
        for path in (TOP / "coach").rglob("*.py")
        if path.name not in ("__init__.py", "__main__.py")
    ]
    script = (
        "import sys, importlib\n"
        f"sys.modules.update(dict.fromkeys({NOT_ON_WINDOWS!r}))\n"
        "for name in sys.argv[1:]: importlib.import_module(name)"
    )
    loaded = sorted(set(modules) - NEEDS_A_POSIX_TERMINAL)
    run_python("-c", script, *loaded, check=True)


def test_tests_that_need_posix_say_what_of_it() -> None:
    for path in (TOP / "tests").rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        if path != Path(__file__) and ONLY_ON_POSIX.search(text):
            assert "Needs POSIX: " in (ast.get_docstring(ast.parse(text)) or ""), path
