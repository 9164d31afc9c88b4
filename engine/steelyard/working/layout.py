"""How an expression is laid out in one line: tokens in order, with the brackets it needs.

Every writer (MathML, LaTeX, Markdown, speech) prints these tokens, so brackets, signs and
multiplication dots are decided once. A row too wide for a narrow panel is written flat, with a
stroke for the fraction bar, and broken after its terms.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from .expression import (
    Equation,
    Expression,
    Function,
    Negation,
    Number,
    Product,
    Quotient,
    Root,
    Square,
    Sum,
    Symbol,
)
from .figures import UNITS

TokenKind = Literal[
    "symbol", "number", "name", "plus", "minus", "negative", "dot", "beside", "equals", "open", "close", "over",
    "fraction", "root", "square",
]  # fmt: skip

# What a row of the panel holds beside its hanging number, at the 17 px it sets equations in.
ROW_PX = 290.0
# How far it sets in the rows of a broken line after the first.
HANGING_PX = 20.0
# Widths at 17 px, measured in the page: letters of STIX Two italic, figures and units of Alegreya Sans, operators with
# the spaces MathML puts round them. An index and the parts of a fraction are set smaller.
_LETTER_PX = {"W": 15.6, "M": 15.2, "m": 13.0, "w": 12.0}
_CAPITAL_PX, _SMALL_PX = 12.2, 9.0
_FIGURE_PX, _POINT_PX, _SPACE_PX, _UNIT_PX = 8.1, 3.9, 2.9, 8.2
_UNIT_LETTER_PX = {"N": 11.3, "m": 13.5, "·": 4.0, "/": 5.0, "²": 6.0, "°": 6.0}
_FUNCTION_PX = 8.6
_INDEX_PART, _FRACTION_PART = 0.8, 0.89
_OPERATOR_PX = {
    "plus": 19.5, "minus": 19.5, "equals": 21.5, "over": 12.5, "dot": 12.0, "negative": 12.3, "open": 6.5, "close": 6.5,
    "beside": 0.5,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Token:
    """One piece of a line. `parts` are the nested lines of a fraction, a root or a square."""

    kind: TokenKind
    leaf: Symbol | Number | None = None
    text: str = ""
    parts: tuple[tuple[Token, ...], ...] = ()


def line(equation: Equation, *, flat: bool = False) -> tuple[Token, ...]:
    """The tokens of an equation; flat writes fractions with a stroke."""
    left = () if equation.left is None else tuple(_tokens(equation.left, flat))
    return (*left, Token("equals"), *_tokens(equation.right, flat))


def expression_line(expression: Expression, *, flat: bool = False) -> tuple[Token, ...]:
    """The tokens of an expression."""
    return tuple(_tokens(expression, flat))


def rows(equation: Equation, width_px: float = ROW_PX, hanging_px: float = 0.0) -> tuple[tuple[Token, ...], ...]:
    """The equation as one row where it fits, else as flat rows broken before signs and strokes.

    A term too wide for a row of its own is broken before its dots. All rows but the first are set in by `hanging_px`.
    """
    whole = line(equation)
    if width(whole) <= width_px:
        return (whole,)
    broken: list[tuple[Token, ...]] = []
    row: list[Token] = []
    for piece in _fitting(line(equation, flat=True), width_px - hanging_px):
        if row and width((*row, *piece)) > (width_px - hanging_px if broken else width_px):
            broken.append(tuple(row))
            row = []
        row.extend(piece)
    broken.append(tuple(row))
    return tuple(broken)


def _fitting(tokens: tuple[Token, ...], width_px: float) -> Iterator[tuple[Token, ...]]:
    for piece in _pieces(tokens, _SIGNS):
        if width(piece) <= width_px:
            yield piece
        else:
            yield from _pieces(piece, (*_SIGNS, "dot"))


_SIGNS: tuple[TokenKind, ...] = ("plus", "minus", "equals", "over")


def _pieces(tokens: tuple[Token, ...], before: tuple[TokenKind, ...]) -> Iterator[tuple[Token, ...]]:
    """Runs of tokens that must stay on one row: a new one may begin before tokens of these kinds."""
    piece: list[Token] = []
    for token in tokens:
        if piece and token.kind in before:
            yield tuple(piece)
            piece = []
        piece.append(token)
    yield tuple(piece)


def width(tokens: tuple[Token, ...]) -> float:
    """About how wide a row is, in CSS pixels at the size the panel sets equations in."""
    return sum(_width(token) for token in tokens)


def _width(token: Token) -> float:
    match token.kind:
        case "symbol":
            assert isinstance(token.leaf, Symbol)
            return _letters(token.leaf.base) + _INDEX_PART * _letters(token.leaf.index) + 2.0
        case "number":
            assert isinstance(token.leaf, Number)
            return _number(token.leaf)
        case "name":
            return _FUNCTION_PX * len(token.text) + 3.0
        case "fraction":
            return max(width(part) for part in token.parts) * _FRACTION_PART + 7.0
        case "root":
            return width(token.parts[0]) + 18.0
        case "square":
            return width(token.parts[0]) + _INDEX_PART * _FIGURE_PX + 1.0
        case _:
            return _OPERATOR_PX[token.kind]


def _letters(text: str) -> float:
    return sum(_LETTER_PX.get(each, _CAPITAL_PX if each.isupper() else _SMALL_PX) for each in text)


def _number(number: Number) -> float:
    figures = sum(_FIGURE_PX if each.isdigit() or each == "-" else _POINT_PX for each in number.text)
    written = UNITS[number.unit].written if number.unit else ""
    space = _SPACE_PX if written and number.unit != "deg" else 0.0
    return figures + space + sum(_UNIT_LETTER_PX.get(each, _UNIT_PX) for each in written)


def _tokens(expression: Expression, flat: bool) -> Iterator[Token]:
    match expression:
        case Symbol():
            yield Token("symbol", expression)
        case Number():
            yield Token("number", expression)
        case Negation():
            yield Token("negative")
            yield from _bracketed(
                expression.of, flat, isinstance(expression.of, Sum | Negation) or _minus(expression.of)
            )
        case Sum():
            for index, (sign, term) in enumerate(expression.terms):
                if index == 0:
                    if sign < 0:
                        yield Token("negative")
                else:
                    yield Token("plus" if sign > 0 else "minus")
                needs = isinstance(term, Sum | Negation) or ((index > 0 or sign < 0) and _minus(term))
                yield from _bracketed(term, flat, needs)
        case Product():
            yield from _product(expression, flat)
        case Quotient():
            if not flat:
                above, below = (tuple(_tokens(part, flat)) for part in (expression.above, expression.below))
                yield Token("fraction", parts=(above, below))
            else:
                yield from _bracketed(expression.above, flat, isinstance(expression.above, Sum | Quotient))
                yield Token("over")
                yield from _bracketed(
                    expression.below,
                    flat,
                    isinstance(expression.below, Sum | Product | Quotient) or _minus(expression.below),
                )
        case Function():
            yield Token("name", text=expression.name)
            simple = isinstance(expression.argument, Symbol | Number) and not _minus(expression.argument)
            yield from _bracketed(expression.argument, flat, not simple)
        case Square():
            simple = isinstance(expression.of, Symbol)
            yield Token("square", parts=(tuple(_bracketed(expression.of, flat, not simple)),))
        case Root():
            yield Token("root", parts=(tuple(_tokens(expression.of, flat)),))


def _product(expression: Product, flat: bool) -> Iterator[Token]:
    previous: Expression | None = None
    for factor in expression.factors:
        if previous is not None:
            yield Token("dot" if _numeric(previous) or _numeric(factor) else "beside")
        grouped = isinstance(factor, Sum | Negation) or (flat and isinstance(factor, Quotient)) or _minus(factor)
        yield from _bracketed(factor, flat, grouped)
        previous = factor


def _bracketed(expression: Expression, flat: bool, needed: bool) -> Iterator[Token]:
    if needed:
        yield Token("open")
    yield from _tokens(expression, flat)
    if needed:
        yield Token("close")


def _numeric(expression: Expression) -> bool:
    """Whether a multiplication sign must be written beside it."""
    if isinstance(expression, Function):
        return isinstance(expression.argument, Number)
    return isinstance(expression, Number)


def _minus(expression: Expression) -> bool:
    """Whether it is written with a leading minus of its own, so that it needs brackets after a sign."""
    if isinstance(expression, Number):
        return expression.text.startswith("-")
    return False
