"""The library's style sheets, which it parses for every app anew, parsed once for all tests."""

from typing import Any

from textual.css import stylesheet
from textual.css.model import RuleSet
from textual.css.parse import parse
from textual.css.tokenize import tokenize_values
from textual.css.tokenizer import Token

_tokens: dict[tuple[tuple[str, str], ...], dict[str, list[Token]]] = {}
_rules: dict[tuple[Any, ...], list[RuleSet]] = {}


def parse_once() -> None:
    """Let every style sheet keep what it is parsed to, by its text and the colours of the theme."""
    stylesheet.tokenize_values = _tokenized
    stylesheet.parse = _parsed


def _tokenized(values: dict[str, str]) -> dict[str, list[Token]]:
    asked = tuple(values.items())
    if asked not in _tokens:
        _tokens[asked] = tokenize_values(values)
    return _tokens[asked]


def _parsed(
    scope: str, css: str, read_from: Any, *, variable_tokens: dict[str, list[Token]], **more: Any
) -> list[RuleSet]:
    asked = (
        scope,
        css,
        read_from,
        id(variable_tokens),
        *sorted(more.items()),
    )  # all tokens are kept
    if asked not in _rules:
        _rules[asked] = list(parse(scope, css, read_from, variable_tokens=variable_tokens, **more))
    return _rules[asked]
