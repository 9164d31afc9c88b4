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

TokenKind = Literal[
    "symbol", "number", "name", "plus", "minus", "negative", "dot", "beside", "equals", "open", "close", "over",
    "fraction", "root", "square",
]  # fmt: skip

# What one em-sized row of a phone panel holds at the 17 px the panel sets equations in.
ROW_PX = 320.0
_GLYPH_PX = 9.0  # an average STIX digit or letter at 17 px, measured 8.4 to 9.6
_INDEX_PX = 6.5
_SPACED_PX = 17.0  # an operator with its spaces


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


def rows(equation: Equation, width_px: float = ROW_PX) -> tuple[tuple[Token, ...], ...]:
    """The equation as one row where it fits, else as flat rows broken before signs, dots and strokes."""
    whole = line(equation)
    if width(whole) <= width_px:
        return (whole,)
    broken: list[tuple[Token, ...]] = []
    row: list[Token] = []
    for piece in _pieces(line(equation, flat=True)):
        if row and width((*row, *piece)) > width_px:
            broken.append(tuple(row))
            row = []
        row.extend(piece)
    broken.append(tuple(row))
    return tuple(broken)


def _pieces(tokens: tuple[Token, ...]) -> Iterator[tuple[Token, ...]]:
    """Runs of tokens that must stay on one row."""
    piece: list[Token] = []
    for token in tokens:
        if piece and token.kind in ("plus", "minus", "equals", "over", "dot"):
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
            return _GLYPH_PX * len(token.leaf.base) + _INDEX_PX * len(token.leaf.index) + 2.0
        case "number":
            assert isinstance(token.leaf, Number)
            unit = _GLYPH_PX * (len(token.leaf.unit) + 0.5) if token.leaf.unit else 0.0
            return _GLYPH_PX * len(token.leaf.text) + unit
        case "name":
            return _GLYPH_PX * len(token.text) + 3.0
        case "plus" | "minus" | "equals" | "over":
            return _SPACED_PX
        case "dot" | "negative" | "open" | "close":
            return _GLYPH_PX
        case "beside":
            return 3.0
        case "fraction":
            return max(width(part) for part in token.parts) * 0.9 + 6.0
        case "root":
            return width(token.parts[0]) + 14.0
        case "square":
            return width(token.parts[0]) + _INDEX_PX


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
