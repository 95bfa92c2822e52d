"""The schema that editors read and the reader take and refuse the same files."""

import json
from collections.abc import Iterator, Sequence
from typing import Any

import pytest
import yaml
from generated_files import drawn, text_of
from jsonschema import Draft202012Validator, ValidationError, validators
from jsonschema.protocols import Validator
from write_declared import SCHEMA as SHIPPED
from write_declared import shipped

from coach.cli.project_finder import shipped_projects
from coach.project.read import read_project
from coach.project.readers.work_steps import STEP_KINDS
from coach.project.schema.json_schema import project_schema
from coach.yaml_reader.file_loader import load

BEYOND = {
    "APART",
    "CORD",
    "KNOT",
    "PIECES",
    "PART",
    "COUNT",
    "GROUPS",
    "POSITION",
    "FLIP",
    "DUPLICATE",
}
"""What only the reader can tell: names that must be listed, numbers that must agree."""


def any_of(
    validator: Validator, schemas: Sequence[Any], instance: object, _schema: object
) -> Iterator[ValidationError]:
    """Stop at the first fault of each schema, of which the library's own gathers all."""
    if not any(validator.evolve(schema=schema).is_valid(instance) for schema in schemas):
        yield ValidationError("is none of what it may be")


def validator() -> Validator:
    quick = validators.extend(Draft202012Validator, {"anyOf": any_of})
    return quick(json.loads(SHIPPED.read_text(encoding="utf-8")))


def test_the_quick_validator_takes_and_refuses_what_the_librarys_does() -> None:
    whole = Draft202012Validator(json.loads(SHIPPED.read_text(encoding="utf-8")))
    quick, files = validator(), [drawn(number) for number in range(15)]
    taken = [whole.is_valid(file) for file in files]
    assert [quick.is_valid(file) for file in files] == taken
    assert 3 < sum(taken) < 12


def test_the_shipped_schema_is_sound_and_up_to_date() -> None:
    """`python tests/docs/write_declared.py` writes it anew."""
    Draft202012Validator.check_schema(project_schema())
    assert SHIPPED.read_text(encoding="utf-8") == shipped()


def test_schema_and_reader_agree_on_generated_files() -> None:
    """A hundred; the next thousand are read by schema_at_length.py."""
    taken, refused = agreed(range(100))
    assert taken > 30
    assert refused > 30


def agreed(numbers: range) -> tuple[int, int]:
    """Return how many generated files both take, and both refuse."""
    check = validator()
    taken = refused = 0
    for number in numbers:
        whole = drawn(number)
        codes = {p.code for p in read_project(text_of(whole)).problems if p.severity == "error"}
        if check.is_valid(whole):
            taken += 1
            assert codes <= BEYOND, (number, codes, text_of(whole))
        else:
            refused += 1
            assert codes, (number, [e.json_path for e in check.iter_errors(whole)], text_of(whole))
    return taken, refused


def test_every_project_that_comes_with_it_fits_the_schema_and_names_it() -> None:
    check = validator()
    for path in shipped_projects():
        text = load(path).text or ""
        written = yaml.load(text, yaml.BaseLoader)  # noqa: S506 - it builds nothing but text
        assert check.is_valid(written), path
        first = text.splitlines()[0]
        assert first.startswith("# yaml-language-server: $schema=")
        assert (path.parent / first.partition("=")[2]).resolve() == SHIPPED


@pytest.mark.parametrize(
    "name", ["reed", "río", "כחול", "reed bed-2", "-reed", "2reed", "r.eed", "a,b", "", "  "]
)
def test_schema_and_reader_take_the_same_names_of_cords(name: str) -> None:
    cord = {"colour": "green", "diameter": "2 mm"}
    whole = {"coach": 1, "title": "Tide", "cords": {name: cord}, "work": [{"do": "Look."}]}
    whole["start"] = {"hang": [name or "x"]}
    codes = {problem.code for problem in read_project(text_of(whole)).problems}
    assert validator().is_valid(whole) == (not codes & {"NAME", "KEY", "EMPTY"})


@pytest.mark.parametrize(
    "text",
    [
        "4 g/m", "4 g / m", "4 g per m", "4 G PER M", "1200 tex", "1200 dtex", "210 den",
        "1/2 oz/yd", "250 m per kg", "85 m per 100 g", "85m/100g", "½ oz / yd",
        "1 lb 4 oz per 100 yd", '7"/oz', "4", "4 g", "4 m", "g/m", "4 g/", "4 g/s",
        "4 g per", "4 gper m", "250 m per 4 m", "0 tex",
        "4 kg/kg", "4 g/m/m", "tex", "4,5 tex", "-4 tex", "4 g/'", "18 cm",
    ],
)  # fmt: skip
def test_schema_and_reader_take_the_same_weights(text: str) -> None:
    assert_agreed({"weight": text})


@pytest.mark.parametrize(
    "text",
    [
        "0.1 fathom",
        "2 Fathoms",
        "3 spans",
        "1 hand",
        "1 fathom 1 span",
        "5 g",
        "1 furlong",
        "0 hand",
    ],
)
def test_schema_and_reader_take_the_same_lengths(text: str) -> None:
    assert_agreed({"diameter": "2 mm", "tail": text})
    assert_agreed({"diameter": text})


def assert_agreed(cord: dict[str, str]) -> None:
    whole = {"coach": 1, "title": "Tide", "cords": {"reed": cord}, "work": [{"do": "Look."}]}
    whole["start"] = {"hang": ["reed"]}
    errors = [p for p in read_project(text_of(whole)).problems if p.severity == "error"]
    assert validator().is_valid(whole) == (not errors)


def test_every_kind_of_step_and_every_key_is_in_the_schema_with_a_word_on_it() -> None:
    whole = project_schema()
    properties = [whole, *whole["$defs"].values()]
    said = {
        key: value["description"]
        for mapping in properties
        for key, value in mapping.get("properties", {}).items()
    }
    assert set(STEP_KINDS) <= set(said)
    assert all(text.endswith(".") for text in said.values())
