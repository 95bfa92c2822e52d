"""Format 1 as a JSON Schema (draft 2020-12), for completion and checks in editors.

It says which keys and words can stand where, as they are declared beside their readers. What they
mean together (that a cord is listed, that strands hang where a row goes) only reader and
board can tell. Keys are given by their first names; the reader also takes them in other cases and
with hyphens.
"""

from typing import Any

from coach.project.read import KEYS, STARTS
from coach.project.readers.common_keys import ABOUT
from coach.project.readers.work_steps import STEP_KINDS
from coach.yaml_reader.mapping_schema import mapping, some_of


def project_schema() -> dict[str, Any]:
    """Return the schema of a whole project file."""
    steps = {
        name: {**mapping((*shape, *ABOUT.values())), **kind.also}
        for kind in STEP_KINDS.values()
        for name, shape in kind.shapes.items()
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A project of knotted cord work, format 1",
        **some_of(mapping(KEYS), *STARTS),
        "$defs": {
            "steps": {"type": "array", "items": {"$ref": "#/$defs/step"}, "minItems": 1},
            "step": {"anyOf": [{"$ref": f"#/$defs/{name}"} for name in steps]},
            **steps,
        },
    }
