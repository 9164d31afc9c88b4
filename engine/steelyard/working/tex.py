"""What LaTeX and Markdown share of writing an equation as TeX; they differ in numbers and in brackets."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from .expression import Number, Symbol
from .layout import Token


@dataclass(frozen=True, slots=True)
class Hand:
    """How one of them writes symbols and numbers, brackets, and a square after its base."""

    symbol: Callable[[Symbol], str]
    number: Callable[[Number], str]
    brackets: tuple[str, str]
    square: str


_SIGNS = {
    "plus": "+",
    "minus": "-",
    "negative": "-",
    "dot": r"\cdot",
    "beside": r"\,",
    "equals": "=",
    "over": "/",
}


def written(tokens: tuple[Token, ...], hand: Hand) -> str:
    """A row of tokens as TeX, without delimiters."""
    return " ".join(piece for piece in (_token(token, hand) for token in tokens) if piece)


def _token(token: Token, hand: Hand) -> str:
    match token.kind:
        case "symbol":
            assert isinstance(token.leaf, Symbol)
            return hand.symbol(token.leaf)
        case "number":
            assert isinstance(token.leaf, Number)
            return hand.number(token.leaf)
        case "name":
            return rf"\{token.text}"
        case "open":
            return hand.brackets[0]
        case "close":
            return hand.brackets[1]
        case "fraction":
            return rf"\frac{{{written(token.parts[0], hand)}}}{{{written(token.parts[1], hand)}}}"
        case "root":
            return rf"\sqrt{{{written(token.parts[0], hand)}}}"
        case "square":
            return rf"{{{written(token.parts[0], hand)}}}{hand.square}"
        case _:
            return _SIGNS[token.kind]
