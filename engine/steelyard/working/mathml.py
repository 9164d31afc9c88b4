"""Equations as MathML Core: nested [tag, attributes, children] lists the page builds elements from.

Only mi, mn, mo, mrow, mfrac, msub, msup, msqrt and mtext, which every current browser draws alike.
"""

from __future__ import annotations

from .expression import Equation, Expression, Number, Symbol
from .figures import UNITS, local
from .layout import HANGING_PX, ROW_PX, Token, expression_line, line, rows

Node = list[object]  # [tag, {attribute: text}, [children]] with text as the only child of a token element


def equation_rows(equation: Equation, *, comma: bool = False, width_px: float = ROW_PX) -> list[Node]:
    """An equation as one or more `math` elements, each short enough for the width."""
    return [_math(row, comma) for row in rows(equation, width_px, HANGING_PX)]


def equation_whole(equation: Equation, *, comma: bool = False) -> Node:
    """An equation as one `math` element, whatever its width."""
    return _math(line(equation), comma)


def expression_whole(expression: Expression, *, comma: bool = False) -> Node:
    """An expression as one `math` element."""
    return _math(expression_line(expression), comma)


def _math(tokens: tuple[Token, ...], comma: bool) -> Node:
    return ["math", {}, [_row(tokens, comma)]]


def _row(tokens: tuple[Token, ...], comma: bool) -> Node:
    return ["mrow", {}, [_node(token, comma) for token in tokens]]


def _mo(text: str, form: str = "infix") -> Node:
    return ["mo", {"form": form}, [text]]


def _node(token: Token, comma: bool) -> Node:
    match token.kind:
        case "symbol":
            assert isinstance(token.leaf, Symbol)
            return _symbol(token.leaf)
        case "number":
            assert isinstance(token.leaf, Number)
            return _number(token.leaf, comma)
        case "name":
            return ["mi", {"class": "function"}, [token.text]]
        case "plus":
            return _mo("+")
        case "minus":
            return _mo("−")
        case "negative":
            return _mo("−", "prefix")
        case "dot":
            return _mo("·")
        case "beside":
            return _mo("\u2062")  # invisible times: heard by a screen reader, drawn as nothing
        case "equals":
            return _mo("=")
        case "open":
            return ["mo", {"form": "prefix", "stretchy": "false"}, ["("]]
        case "close":
            return ["mo", {"form": "postfix", "stretchy": "false"}, [")"]]
        case "over":
            return _mo("∕")
        case "fraction":
            return ["mfrac", {}, [_row(part, comma) for part in token.parts]]
        case "root":
            return ["msqrt", {}, [_row(token.parts[0], comma)]]
        case "square":
            return ["msup", {}, [_row(token.parts[0], comma), ["mn", {}, ["2"]]]]


def _symbol(symbol: Symbol) -> Node:
    marks = {"data-of": symbol.of} if symbol.of else {}
    # One letter is italic by itself; longer names must say so, and an upright index as well.
    base: Node = ["mi", {} if len(symbol.base) == 1 else {"class": "italic"}, [symbol.base]]
    if not symbol.index:
        return ["mi", {**marks, **({} if len(symbol.base) == 1 else {"class": "italic"})}, [symbol.base]]
    style: dict[str, str] = {} if symbol.italic_index and len(symbol.index) == 1 else {"mathvariant": "normal"}
    if symbol.italic_index and len(symbol.index) > 1:
        style = {"class": "italic"}
    return ["msub", marks, [base, ["mi", style, [symbol.index]]]]


def _number(number: Number, comma: bool) -> Node:
    marks = {"data-of": number.of} if number.of else {}
    digits: Node = ["mn", {}, [local(number.text, comma=comma)]]
    if not number.unit:
        return ["mrow", marks, [digits]] if marks else digits
    unit = UNITS[number.unit].written
    # A no-break space stands before a unit, but none before the degree sign.
    space = "" if number.unit == "deg" else "\u00a0"
    return ["mrow", marks, [digits, ["mtext", {}, [space + unit]]]]
