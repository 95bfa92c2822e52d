"""Write anew what follows from the declared keys: the shipped schemas and the manual's tables."""

import json
from pathlib import Path
from typing import Any

import coach
from coach.orders import read_prices, read_stock
from coach.project.schema.json_schema import project_schema
from coach.project.schema.manual_tables import with_tables

SCHEMA = Path(coach.__file__).parent / "project" / "format-1.schema.json"
DESK = {
    Path(coach.__file__).parent / "orders" / f"{name}.schema.json": known
    for name, known in (("prices", read_prices.prices_schema), ("stock", read_stock.stock_schema))
}
PAGE = Path(coach.__file__).parent / "pages" / "writing.md"


def shipped() -> str:
    """Return the text of the schema as it is shipped."""
    return written(project_schema())


def written(known: dict[str, Any]) -> str:
    """Return a schema as text."""
    return json.dumps(known, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    SCHEMA.write_text(shipped(), encoding="utf-8")
    for path, known in DESK.items():
        path.write_text(written(known()), encoding="utf-8")
    PAGE.write_text(with_tables(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
