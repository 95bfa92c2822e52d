"""Values of many kinds that are there at once, also when the program has just been started."""

from typing import Any, ClassVar, NoReturn, Self, dataclass_transform


@dataclass_transform(kw_only_default=True, frozen_default=True)
class Frozen:
    """A frozen value; its fields are annotated in its class and those above it, as in a dataclass.

    A dataclass writes and compiles its methods for every class anew. For the two dozen kinds of
    events that takes longer than opening a piece, so here all kinds share one set of methods.
    Fields are given by name; a default is the same object for all values, so it must not change.
    """

    fields: ClassVar[dict[str, Any]] = {}
    """The type of each field by its name, those of the classes above first."""

    def __init_subclass__(cls) -> None:
        """Take up the fields that a class adds."""
        own = cls.__dict__.get("__annotations__", {})  # noqa: RUF063 - inspect takes long to load
        added = {n: t for n, t in own.items() if getattr(t, "__origin__", None) is not ClassVar}
        cls.fields = {**cls.fields, **added}

    def __init__(self, **values: Any) -> None:
        """Take the fields. Raises TypeError for one that is missing or unknown."""
        kind = type(self)
        for name in kind.fields:
            if name not in values and not hasattr(kind, name):
                raise TypeError(f"{kind.__name__} lacks {name}")
        if not values.keys() <= kind.fields.keys():
            raise TypeError(f"{kind.__name__} has no {min(values.keys() - kind.fields.keys())}")
        self.__dict__.update(
            (name, values[name] if name in values else getattr(kind, name)) for name in kind.fields
        )

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"{type(self).__name__} is frozen: {name}")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError(f"{type(self).__name__} is frozen: {name}")

    def __eq__(self, other: object) -> bool:
        return type(self) is type(other) and self.__dict__ == other.__dict__

    def __hash__(self) -> int:
        return hash((type(self), *self.__dict__.values()))

    def __repr__(self) -> str:
        told = ", ".join(f"{name}={value!r}" for name, value in self.__dict__.items())
        return f"{type(self).__name__}({told})"

    def values(self) -> dict[str, Any]:
        """Return every field by its name."""
        return dict(self.__dict__)

    def but(self, **changes: Any) -> Self:
        """Return the value with some fields changed."""
        return type(self)(**{**self.__dict__, **changes})
