"""The house stands as it is meant to: data flows one way, and nothing is loaded before its time."""

import ast
import re
import tomllib
from collections import Counter
from collections.abc import Collection
from functools import cache
from pathlib import Path
from pkgutil import resolve_name
from types import ModuleType

import pytest
from processes import run_python
from textual import containers, widgets

import coach
from coach import desk, orders, tui
from coach.cli import lazy_actions
from coach.cli import orders as cli_orders
from coach.tui import screens

HOME = Path(coach.__file__).parent
# What each room may import; a room is a folder of `coach/`, or a file that stands alone there.
MAY_IMPORT = {
    "text": set(),
    "kept_events": set(),
    "lazy_names": set(),
    "colour": set(),
    "quantities": {"quantities", "text"},
    "knots": {"knots", "text"},
    "pace": {"pace"},
    "audio": {"audio", "text"},
    "yaml_reader": {"yaml_reader", "colour", "quantities", "text"},
    "project": {"project", "yaml_reader", "knots", "quantities", "text"},
    "board": {"board", "knots"},
    "plan": {"plan", "pace", "project", "yaml_reader", "board", "knots", "quantities", "text"},
    "recording": {"recording", "plan", "project", "knots", "text"},
    "picture": {"picture", "plan", "board", "project", "knots", "colour", "quantities", "text"},
    "orders": {
        "orders", "kept_events", "picture", "report", "plan", "pace", "project", "yaml_reader",
        "colour", "quantities", "lazy_names", "text",
    },
    "whole_file": set(),
    "settings": {"settings", "whole_file", "yaml_reader", "knots", "text"},
    "piece": {
        "piece", "recording", "orders", "kept_events", "plan", "pace", "project", "knots",
        "quantities", "text", "whole_file",
        "",
    },
    "desk": {
        "desk", "piece", "orders", "kept_events", "plan", "pace", "quantities", "lazy_names",
        "text", "",
    },
    "report": {"report", "plan", "pace", "project", "quantities", "text"},
    "words": {"words", "report", "plan", "project", "knots", "quantities", "text"},
    "card": {
        "card", "picture", "words", "report", "plan", "project", "knots", "colour", "quantities",
        "text",
    },
    "session": {
        "session", "settings", "audio", "desk", "piece", "recording", "plan", "pace", "project",
        "knots", "quantities", "text",
    },
    "plain_ui": {"plain_ui", "session", "desk", "recording", "piece", "plan", "knots", "text"},
    "tui": {
        "tui", "picture", "session", "settings", "desk", "piece", "recording", "report", "plan",
        "pace", "project", "knots", "colour", "quantities", "lazy_names", "text",
    },
}  # fmt: skip
PURE = (
    "text",
    "kept_events",
    "colour",
    "quantities",
    "knots",
    "pace",
    "board",
    "plan",
    "project",
    "picture",
    "report",
)
IMPURE_MODULES = {
    "time", "datetime", "random", "os", "pathlib", "sys", "sqlite3", "subprocess", "socket",
    "tempfile", "shutil", "curses", "textual", "platformdirs", "threading", "asyncio",
}  # fmt: skip


def modules(room: str) -> list[Path]:
    """Return the modules of a room: a package's files, or one file."""
    package = HOME / room
    return sorted(package.rglob("*.py")) if package.is_dir() else [HOME / f"{room}.py"]


@cache
def imported(path: Path) -> frozenset[str]:
    """Return every module that a file imports, wherever in it."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
    return frozenset(found)


def rooms_of(names: Collection[str]) -> set[str]:
    """Return the rooms of ours among imported names; "" is the package itself."""
    rooms = {path.stem for path in HOME.iterdir()}
    heads = {name.split(".")[1] for name in names if name.startswith("coach.")}
    return {head if head in rooms else "" for head in heads}


@pytest.mark.parametrize("room", MAY_IMPORT)
def test_a_room_imports_only_from_rooms_before_it(room: str) -> None:
    for path in modules(room):
        beyond = rooms_of(imported(path)) - MAY_IMPORT[room]
        assert not beyond, f"{path.relative_to(HOME)} reaches into {sorted(beyond)}"


def test_every_room_is_held_to_a_direction() -> None:
    rooms = {path.stem for path in HOME.iterdir() if path.suffix == ".py" or path.is_dir()}
    edges = {"__init__", "__main__", "__pycache__", "_projects", "cli", "pages"}
    assert rooms - edges == set(MAY_IMPORT)


@pytest.mark.parametrize("room", PURE)
def test_pure_rooms_know_no_clock_files_environment_or_terminal(room: str) -> None:
    for path in modules(room):
        heads = {name.split(".")[0] for name in imported(path)}
        assert not heads & IMPURE_MODULES, path.relative_to(HOME)


def test_the_order_desk_reckons_with_dates_but_knows_no_clock() -> None:
    for path in modules("orders"):
        heads = {name.split(".")[0] for name in imported(path)}
        assert not heads & (IMPURE_MODULES - {"datetime"}), path.relative_to(HOME)
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"\.(now|today|utcnow|fromtimestamp)\(", text), path.relative_to(HOME)


def test_text_is_read_from_files_only_at_the_edge() -> None:
    for path in modules("yaml_reader"):
        if path.name != "file_loader.py":
            heads = {name.split(".")[0] for name in imported(path)}
            assert not heads & IMPURE_MODULES, path.relative_to(HOME)


# What each folder of `coach/tui/` may import beside itself; "" are the modules of `tui` itself.
TUI_MAY_IMPORT = {
    "theme": set(),
    "drawing": set(),
    "input": set(),
    "widgets": set(),
    "layout": {"widgets", "drawing", "theme"},
    "pages": {"layout", "drawing", "messages"},
    "pixels": set(),
    "screens": {
        "pages", "layout", "widgets", "drawing", "pixels", "messages", "base_app", "sounds",
    },
    "order_desk": {"screens", "layout"},
    "": {
        "order_desk", "screens", "pages", "layout", "widgets", "drawing", "pixels", "theme",
        "input", "messages", "base_app", "sounds",
    },
}  # fmt: skip


@pytest.mark.parametrize("folder", TUI_MAY_IMPORT)
def test_the_screens_are_built_up_one_way(folder: str) -> None:
    """From colours and drawings to lines, from lines to pages and screens, from these to apps."""
    tui = HOME / "tui"
    paths = (tui / folder).rglob("*.py") if folder else tui.glob("*.py")
    for path in paths:
        names = {name.split(".")[2] for name in imported(path) if name.startswith("coach.tui.")}
        allowed = TUI_MAY_IMPORT[folder] | (
            {folder} if folder else {path.stem for path in tui.glob("*.py")}
        )
        assert names <= allowed, path.relative_to(HOME)


def test_the_styles_name_widgets_that_there_are() -> None:
    """A style of a name that no class has is silently left out."""
    styles = (HOME / "tui" / "bench.tcss").read_text(encoding="utf-8")
    named = set(
        re.findall(r"\b[A-Z]\w+", re.sub(r"/\*.*?\*/|\{.*?\}", "", styles, flags=re.DOTALL))
    )
    code = "\n".join(path.read_text(encoding="utf-8") for path in modules("tui"))
    ours = set(re.findall(r"^class (\w+)", code, re.MULTILINE))
    assert "KeysLine" in named
    assert named - ours == {"Horizontal", "Static", "VerticalScroll"}


def test_every_folder_of_screens_is_held_to_a_direction() -> None:
    folders = {path.name for path in (HOME / "tui").iterdir() if path.is_dir()}
    assert folders - {"__pycache__"} == set(TUI_MAY_IMPORT) - {""}


@pytest.mark.parametrize("registry", [tui, screens, lazy_actions, cli_orders, desk, orders])
def test_all_that_is_loaded_by_name_is_there(registry: ModuleType) -> None:
    """What a type checker is told of it is what is loaded."""
    package = registry.__spec__.parent if registry.__spec__ else ""
    told = {
        alias.name: node.module.removeprefix(f"{package}.")
        for node in ast.walk(ast.parse(Path(str(registry.__file__)).read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("coach.")
        for alias in node.names
        if alias.name != "lazy_names"
    }
    assert told == dict(registry._MODULES)
    assert set(registry.__all__) == set(told)
    beside = {path.stem for path in Path(str(registry.__file__)).parent.glob("*.py")}
    assert not set(told) & beside  # a module once loaded would be found in its place
    assert all(resolve_name(f"{registry.__name__}:{name}") for name in told)


def test_the_style_sheet_is_for_widgets_that_are_there() -> None:
    """Rules for one by another name would be passed over without a word."""
    sheet = (HOME / "tui" / "bench.tcss").read_text(encoding="utf-8")
    selectors = re.sub(r"/\*.*?\*/|\{.*?\}", " ", sheet, flags=re.DOTALL)
    ours = {
        node.name
        for path in modules("tui")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ClassDef)
    }
    named = set(re.findall(r"\b[A-Z]\w+", selectors))
    assert "PaintedLines" in named
    assert named <= ours | {*vars(containers), *widgets.__all__}


@pytest.mark.parametrize("room", ["tui", "session", "plain_ui", "audio", "settings"])
def test_no_module_of_the_bench_is_too_long_to_oversee(room: str) -> None:
    for path in modules(room):
        assert len(path.read_text(encoding="utf-8").splitlines()) <= 250, path.relative_to(HOME)


def test_the_bench_without_a_screen_knows_no_screen() -> None:
    for path in modules("session"):
        assert not any(name.split(".")[0] == "textual" for name in imported(path)), path


def test_no_folder_is_too_full_to_oversee() -> None:
    for folder in (HOME, *(path for path in HOME.rglob("*") if path.is_dir())):
        count = sum(path.name != "__init__.py" for path in folder.glob("*.py"))
        assert count <= 20, folder.relative_to(HOME.parent)


def test_no_module_name_stands_for_two_things() -> None:
    """A command's module has the command's name, whatever else is called so."""
    names = Counter(
        path.stem
        for path in HOME.rglob("*.py")
        if not path.stem.startswith("__") and "commands" not in path.parts
    )
    assert [name for name, times in names.items() if times > 1] == []


def test_every_class_that_the_styles_name_is_there() -> None:
    """Textual passes over a selector of no class without a word."""
    styles = (HOME / "tui" / "bench.tcss").read_text(encoding="utf-8")
    named = {
        name
        for selectors in re.findall(r"^([^\s/{}][^{}]*)\{", styles, flags=re.MULTILINE)
        for name in re.findall(r"(?<![\w.#-])[A-Z]\w*", selectors)
    }
    ours = {
        node.name
        for path in modules("tui")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ClassDef)
    }
    assert "WorkScreen" in named
    assert named - ours <= {"Horizontal", "Static", "VerticalScroll"}  # Textual's own


OF_EVERY_COMMAND = {"run", "add_arguments"}  # the registry calls them by these names


@pytest.mark.parametrize("kind", [ast.ClassDef, ast.FunctionDef])
def test_no_public_class_or_function_name_stands_for_two_things(kind: type[ast.stmt]) -> None:
    names = Counter(
        node.name
        for path in HOME.rglob("*.py")
        for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.ClassDef | ast.FunctionDef) and isinstance(node, kind)
        if not node.name.startswith("_")
    )
    assert {name for name, times in names.items() if times > 1} <= OF_EVERY_COMMAND


@cache
def loaded_by(*arguments: str) -> frozenset[str]:
    """Return the modules that are loaded when the coach runs with these arguments."""
    script = (
        "import sys\nfrom coach.cli.main import main\n"
        "try:\n    main(sys.argv[1:])\nexcept SystemExit:\n    pass\n"
        "sys.stderr.write('\\n'.join(sys.modules))"
    )
    done = run_python("-c", script, *arguments, check=True, environment={"PYTHONWARNINGS": ""})
    return frozenset(done.stderr.split())


SHELF = tuple(map(str, sorted((HOME.parent / "projects").glob("*.yaml"))))
# Calls that several tests look at, so that each is made once.
CALLS = {
    "check": ("check", "reed-keyring", *SHELF),
    "plan": ("plan", "reed-keyring", "--hank", "25 m"),
}


@pytest.mark.parametrize("verb", ["check", "plan"])
def test_check_and_plan_never_load_the_screen(verb: str) -> None:
    loaded = loaded_by(*CALLS[verb])
    assert "coach.plan.compile.compiler" in loaded
    assert "textual" not in loaded


def test_version_loads_neither_screen_nor_units() -> None:
    loaded = loaded_by("--version")
    assert "coach.cli.main" in loaded
    assert not {"textual", "pint", "yaml"} & loaded


def test_check_loads_only_what_reads_and_plans() -> None:
    """No screen, store or units, and none of the library that takes longer than the reading."""
    loaded = loaded_by(*CALLS["check"])
    assert "coach.plan.measure.measuring_pass" in loaded
    needless = {"textual", "sqlite3", "pint"}
    assert not needless & loaded


def test_every_command_that_is_installed_is_there_to_be_called() -> None:
    project = tomllib.loads((HOME.parent / "pyproject.toml").read_text(encoding="utf-8"))
    for name, place in project["project"]["scripts"].items():
        assert callable(resolve_name(place)), name


def test_shells_ask_all_commands_for_their_arguments_without_a_screen() -> None:
    """Many shells do at their start; screens and units load slower than all the rest."""
    loaded = loaded_by("completion", "bash")
    assert "coach.cli.commands.knot" in loaded
    assert not {"textual", "pint"} & loaded


_BENCH_SHOWN = """
import sys
from coach import tui
from coach.cli import main, terminal

def shown(*_, **__):
    import coach.tui.app, coach.tui.screens.resume_screen
    return 0

tui.run_bench, terminal.is_interactive, terminal.is_dumb = shown, lambda: True, lambda: False
main.main(["knot", "reed-keyring"])
sys.stderr.write("\\n".join(sys.modules))
"""


def test_a_piece_comes_to_the_bench_without_what_few_pieces_need(tmp_path: Path) -> None:
    """No order desk without orders, no report, no list, no plain lines, no rescue of a store."""
    home = {"COACH_HOME": str(tmp_path), "PYTHONWARNINGS": ""}
    done = run_python("-c", _BENCH_SHOWN, check=True, environment=home)
    loaded = set(done.stderr.split())
    assert "coach.tui.screens.resume_screen" in loaded
    needless = (
        "coach.report.", "coach.plain_ui.", "coach.picture.", "coach.words", "coach.card",
        "coach.orders.desk", "coach.orders.stock", "coach.orders.quote", "coach.knots.explanation",
        "coach.piece.storage.rescue", "coach.plan.wording.advice", "coach.tui.screens.listed",
        "coach.tui.screens.question", "pint",
    )  # fmt: skip
    assert [name for name in loaded if name.startswith(needless)] == []


def test_help_loads_no_command() -> None:
    assert not [name for name in loaded_by("--help") if name.startswith("coach.cli.commands.")]


def test_shared_code_of_the_command_line_imports_no_command() -> None:
    for path in (HOME / "cli").glob("*.py"):
        names = [name for name in imported(path) if name.startswith("coach.cli.commands")]
        assert not names, path.relative_to(HOME)


def test_a_command_imports_no_other_command() -> None:
    for path in (HOME / "cli" / "commands").rglob("*.py"):
        names = [name for name in imported(path) if name.startswith("coach.cli.commands")]
        assert not names, path.relative_to(HOME)


def test_no_module_waits_for_one_that_waits_for_it() -> None:
    """No cycle of imports, wherever in a module they stand."""
    paths = {".".join(path.relative_to(HOME.parent).with_suffix("").parts): path
             for path in HOME.rglob("*.py")}  # fmt: skip
    needs = {name: imported(path) & paths.keys() - {name} for name, path in paths.items()}
    while free := {name for name, found in needs.items() if not found}:
        needs = {name: found - free for name, found in needs.items() if name not in free}
    assert not needs, f"a cycle is among {sorted(needs)}"


def test_units_are_loaded_for_a_project_that_asks_for_them_and_for_no_other(
    tmp_path: Path,
) -> None:
    """Every project that comes along is in centimetres; a fathom or a weight is not."""
    assert SHELF
    for call in CALLS.values():
        assert "pint" not in loaded_by(*call)
    for asked in ("diameter: 2 mm, tail: 0.1 fathom", "weight: 4 g/m"):
        text = (HOME.parent / "projects" / "reed-keyring.yaml").read_text(encoding="utf-8")
        file = tmp_path / "asked.yaml"
        file.write_text(re.sub("diameter: [^,}]*", asked, text, count=1), encoding="utf-8")
        assert "pint" in loaded_by("check", str(file))
