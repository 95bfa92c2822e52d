"""Write anew what follows from the declared keys: the shipped schema and the manual's tables."""

import json
from pathlib import Path

import coach
from coach.project.schema.json_schema import schema
from coach.project.schema.manual_tables import with_tables

SCHEMA = Path(coach.__file__).parent / "project" / "format-1.schema.json"
PAGE = Path(coach.__file__).parent / "pages" / "writing.md"


def shipped() -> str:
    """Return the text of the schema as it is shipped."""
    return json.dumps(schema(), indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    SCHEMA.write_text(shipped(), encoding="utf-8")
    PAGE.write_text(with_tables(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
