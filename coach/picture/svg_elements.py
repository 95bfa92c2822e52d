"""Writing SVG elements as text, with everything from outside escaped."""

from html import escape


def element(name: str, body: str = "", /, **attributes: object) -> str:
    """Return one element; `_` in an attribute's name stands for `-`, a trailing one is dropped."""
    given = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_value(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{given}>{body}</{name}>" if body else f"<{name}{given}/>"


def _value(value: object) -> str:
    return svg_number(value) if isinstance(value, float) else escape(str(value))


def svg_number(value: float) -> str:
    """Return a number to a hundredth, without trailing zeros."""
    found = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if found in ("", "-0") else found
