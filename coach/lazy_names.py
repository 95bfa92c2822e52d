"""Names that a package has, each loaded from its module when it is first used."""

from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any


def lazy_names(package: str, modules: Mapping[str, str]) -> Callable[[str], Any]:
    """Return the `__getattr__` of a module that loads names late (PEP 562).

    Args:
        package: The package whose modules they are.
        modules: The module of each name, relative to the package.
    """

    def load(name: str) -> Any:
        if name not in modules:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        return getattr(import_module(f"{package}.{modules[name]}"), name)

    return load
