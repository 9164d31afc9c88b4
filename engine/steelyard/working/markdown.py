"""Equations for Markdown: dollar-delimited TeX that needs no package (units upright by \\mathrm)."""

from __future__ import annotations

from .expression import Equation, Number, Symbol
from .figures import UNITS, local
from .latex import symbol_latex
from .layout import Token, line

_WORDS = {"\\": "\\\\", "*": r"\*", "_": r"\_", "`": r"\`", "$": r"\$", "<": "&lt;", "[": r"\[", "]": r"\]", "#": r"\#"}


def equation_markdown(equation: Equation, *, comma: bool = False) -> str:
    """An equation as TeX between dollar signs."""
    return f"${_line(line(equation), comma)}$"


def symbol_markdown(symbol: Symbol) -> str:
    """A symbol between dollar signs."""
    return f"${symbol_latex(symbol)}$"


def escape(text: str) -> str:
    """Words as Markdown text."""
    return "".join(_WORDS.get(char, char) for char in text)


def _line(tokens: tuple[Token, ...], comma: bool) -> str:
    return " ".join(_token(token, comma) for token in tokens)


def _token(token: Token, comma: bool) -> str:
    match token.kind:
        case "symbol":
            assert isinstance(token.leaf, Symbol)
            return symbol_latex(token.leaf)
        case "number":
            assert isinstance(token.leaf, Number)
            return _number(token.leaf, comma)
        case "name":
            return rf"\{token.text}"
        case "plus":
            return "+"
        case "minus" | "negative":
            return "-"
        case "dot":
            return r"\cdot"
        case "beside":
            return r"\,"
        case "equals":
            return "="
        case "open":
            return "("
        case "close":
            return ")"
        case "over":
            return "/"
        case "fraction":
            return rf"\frac{{{_line(token.parts[0], comma)}}}{{{_line(token.parts[1], comma)}}}"
        case "root":
            return rf"\sqrt{{{_line(token.parts[0], comma)}}}"
        case "square":
            return rf"{{{_line(token.parts[0], comma)}}}^2"


def _number(number: Number, comma: bool) -> str:
    text = local(number.text, comma=comma).replace(",", "{,}").replace("\u2009", r"\,").replace("−", "-")
    if not number.unit:
        return text
    if number.unit == "deg":
        return rf"{text}^\circ"
    unit = UNITS[number.unit].written.replace("·", r"\cdot ").replace("²", "^2")
    return rf"{text}\,\mathrm{{{unit}}}"
