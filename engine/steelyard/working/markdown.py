"""Equations for Markdown: dollar-delimited TeX that needs no package (units upright by \\mathrm)."""

from __future__ import annotations

from .expression import Equation, Number, Symbol
from .figures import UNITS, local
from .latex import symbol_latex
from .layout import line
from .tex import Hand, written

_WORDS = {"\\": "\\\\", "*": r"\*", "_": r"\_", "`": r"\`", "$": r"\$", "<": "&lt;", "[": r"\[", "]": r"\]", "#": r"\#"}


def equation_markdown(equation: Equation, *, comma: bool = False) -> str:
    """An equation as TeX between dollar signs."""
    hand = _WITH_COMMA if comma else _WITH_POINT
    return f"${written(line(equation), hand)}$"


def symbol_markdown(symbol: Symbol) -> str:
    """A symbol between dollar signs."""
    return f"${symbol_latex(symbol)}$"


def escape(text: str) -> str:
    """Words as Markdown text."""
    return "".join(_WORDS.get(char, char) for char in text)


def _number(number: Number, comma: bool) -> str:
    text = local(number.text, comma=comma).replace(",", "{,}").replace("\u2009", r"\,").replace("−", "-")
    if not number.unit:
        return text
    if number.unit == "deg":
        return rf"{text}^\circ"
    unit = UNITS[number.unit].written.replace("·", r"\cdot ").replace("²", "^2")
    return rf"{text}\,\mathrm{{{unit}}}"


_WITH_POINT = Hand(symbol_latex, lambda number: _number(number, False), ("(", ")"), "^2")
_WITH_COMMA = Hand(symbol_latex, lambda number: _number(number, True), ("(", ")"), "^2")
