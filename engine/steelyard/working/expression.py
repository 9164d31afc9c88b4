"""One immutable tree for everything mathematical the working writes.

The same tree is evaluated, printed as MathML, LaTeX and Markdown, and read aloud, so what is shown,
copied and checked cannot differ. Angles are in degrees, as they are written.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

FunctionName = Literal["cos", "sin", "tan", "arctan"]


@dataclass(frozen=True, slots=True)
class Symbol:
    """A quantity: an italic base and an index (upright, unless it names a quantity or an axis).

    `of` is the id of the force the quantity belongs to, for lighting it; it is no part of the name.
    """

    base: str
    index: str = ""
    of: str = field(default="", compare=False)
    italic_index: bool = field(default=False, compare=False)


@dataclass(frozen=True, slots=True)
class Number:
    """A number as displayed: `text` holds its digits (ASCII, decimal point), `unit` a key of `figures.UNITS`.

    `value` is the number behind the digits; `of` the force it belongs to.
    """

    value: float
    text: str
    unit: str = ""
    of: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Sum:
    """Signed terms, in order; without terms it is zero."""

    terms: tuple[tuple[int, Expression], ...]


@dataclass(frozen=True, slots=True)
class Product:
    """Factors, in order; at least two."""

    factors: tuple[Expression, ...]


@dataclass(frozen=True, slots=True)
class Quotient:
    """A fraction."""

    above: Expression
    below: Expression


@dataclass(frozen=True, slots=True)
class Negation:
    """Minus an expression."""

    of: Expression


@dataclass(frozen=True, slots=True)
class Function:
    """A function of an angle in degrees (or, for arctan, giving one)."""

    name: FunctionName
    argument: Expression


@dataclass(frozen=True, slots=True)
class Square:
    """The square of an expression."""

    of: Expression


@dataclass(frozen=True, slots=True)
class Root:
    """The square root of an expression."""

    of: Expression


Expression = Symbol | Number | Sum | Product | Quotient | Negation | Function | Square | Root


@dataclass(frozen=True, slots=True)
class Equation:
    """Two sides said to be equal; `left` None continues the line above ("= ...")."""

    left: Expression | None
    right: Expression


ZERO = Number(0.0, "0")
ONE = Number(1.0, "1")


def cosine(angle: Expression) -> Function:
    """The cosine of an angle in degrees."""
    return Function("cos", angle)


def sine(angle: Expression) -> Function:
    """The sine of an angle in degrees."""
    return Function("sin", angle)


def product(*factors: Expression) -> Expression:
    """The factors multiplied, nested products flattened, ones left out; sines and cosines stand last."""
    flat: list[Expression] = []
    for factor in factors:
        flat.extend(factor.factors if isinstance(factor, Product) else (factor,))
    # Nothing may follow "cos θ" in a product: "cos θ d" could be read as cos(θd).
    flat.sort(key=lambda factor: isinstance(factor, Function))
    flat = [factor for factor in flat if factor != ONE] or [ONE]
    return flat[0] if len(flat) == 1 else Product(tuple(flat))


def reduced(expression: Expression, solved: Mapping[Symbol, Expression]) -> Expression | None:
    """A quotient with what was solved for put in, and equal factors cancelled; None where nothing is gained.

    sin θ over cos θ is written tan θ.
    """
    whole = expression
    for symbol, found_as in reversed(list(solved.items())):  # the last was found from the ones before it
        whole = substitute(whole, {symbol: found_as})
    found = _factored(whole)
    if found is None:
        return None
    sign, above, below = found
    for factor in list(above):
        if factor in below:
            above.remove(factor)
            below.remove(factor)
    for top, bottom in ((above, below), (below, above)):
        for factor in list(top):
            if isinstance(factor, Function) and factor.name == "sin" and (under := cosine(factor.argument)) in bottom:
                top[top.index(factor)] = Function("tan", factor.argument)
                bottom.remove(under)
    made = product(*above) if above else ONE
    if below:
        made = Quotient(made, product(*below))
    made = made if sign > 0 else Negation(made)
    return None if made == expression else made


def _factored(expression: Expression) -> tuple[int, list[Expression], list[Expression]] | None:
    """Sign, factors above and factors below; None for nothing at all."""
    match expression:
        case Number():
            if expression.value == 0.0:
                return None
            return (1, [], []) if expression == ONE else (1, [expression], [])
        case Negation():
            inner = _factored(expression.of)
            return None if inner is None else (-inner[0], inner[1], inner[2])
        case Quotient():
            over, under = _factored(expression.above), _factored(expression.below)
            if over is None or under is None:
                return None
            return over[0] * under[0], over[1] + under[2], over[2] + under[1]
        case Product():
            sign, above, below = 1, list[Expression](), list[Expression]()
            for factor in expression.factors:
                inner = _factored(factor)
                if inner is None:
                    return None
                sign, above, below = sign * inner[0], above + inner[1], below + inner[2]
            return sign, above, below
        case _:
            return 1, [expression], []


def total(terms: tuple[tuple[int, Expression], ...]) -> Expression:
    """The signed terms added, in the plainest way: nothing is zero, one term stands without a sum."""
    if not terms:
        return ZERO
    if len(terms) == 1:
        return terms[0][1] if terms[0][0] > 0 else Negation(terms[0][1])
    return Sum(terms)


def evaluate(expression: Expression, values: Mapping[Symbol, float] | None = None, *, printed: bool = False) -> float:
    """The value of an expression; `printed` reads numbers from their digits, as a calculator would.

    KeyError when a symbol has no value; ZeroDivisionError where a denominator vanishes.
    """
    match expression:
        case Symbol():
            if values is None:
                raise KeyError(expression)
            return values[expression]
        case Number():
            return float(expression.text) if printed else expression.value
        case Sum():
            return math.fsum(sign * evaluate(term, values, printed=printed) for sign, term in expression.terms)
        case Product():
            result = 1.0
            for factor in expression.factors:
                result *= evaluate(factor, values, printed=printed)
            return result
        case Quotient():
            above = evaluate(expression.above, values, printed=printed)
            return above / evaluate(expression.below, values, printed=printed)
        case Negation():
            return -evaluate(expression.of, values, printed=printed)
        case Function():
            return _function(expression.name, evaluate(expression.argument, values, printed=printed))
        case Square():
            inner = evaluate(expression.of, values, printed=printed)
            return inner * inner
        case Root():
            return math.sqrt(evaluate(expression.of, values, printed=printed))


def _function(name: FunctionName, argument: float) -> float:
    if name == "arctan":
        return math.degrees(math.atan(argument))
    radians = math.radians(argument)
    return {"cos": math.cos, "sin": math.sin, "tan": math.tan}[name](radians)


def substitute(expression: Expression, values: Mapping[Symbol, Expression]) -> Expression:
    """The expression with some symbols replaced."""
    match expression:
        case Symbol():
            return values.get(expression, expression)
        case Number():
            return expression
        case Sum():
            return Sum(tuple((sign, substitute(term, values)) for sign, term in expression.terms))
        case Product():
            return Product(tuple(substitute(factor, values) for factor in expression.factors))
        case Quotient():
            return Quotient(substitute(expression.above, values), substitute(expression.below, values))
        case Negation():
            return Negation(substitute(expression.of, values))
        case Function():
            return Function(expression.name, substitute(expression.argument, values))
        case Square():
            return Square(substitute(expression.of, values))
        case Root():
            return Root(substitute(expression.of, values))


def parts(expression: Expression) -> tuple[Expression, ...]:
    """The expressions directly inside one."""
    match expression:
        case Symbol() | Number():
            return ()
        case Sum():
            return tuple(term for _, term in expression.terms)
        case Product():
            return expression.factors
        case Quotient():
            return (expression.above, expression.below)
        case Function():
            return (expression.argument,)
        case Negation() | Square() | Root():
            return (expression.of,)


def leaves(expression: Expression) -> Iterator[Symbol | Number]:
    """The symbols and numbers of an expression, in reading order, repeated as they occur."""
    if isinstance(expression, Symbol | Number):
        yield expression
    for part in parts(expression):
        yield from leaves(part)


def free_symbols(expression: Expression) -> tuple[Symbol, ...]:
    """The symbols of an expression, each once, in reading order."""
    found: dict[Symbol, None] = {}
    _gather(expression, found)
    return tuple(found)


def _gather(expression: Expression, found: dict[Symbol, None]) -> None:
    if isinstance(expression, Symbol):
        found[expression] = None
    else:
        for part in parts(expression):
            _gather(part, found)


def sides(equation: Equation) -> tuple[Expression, ...]:
    """The sides of an equation that are written."""
    return (equation.right,) if equation.left is None else (equation.left, equation.right)


def forces_in(equation: Equation) -> tuple[str, ...]:
    """The ids of the forces an equation mentions, each once, in reading order."""
    named = (leaf.of for side in sides(equation) for leaf in leaves(side))
    return tuple(dict.fromkeys(force for force in named if force))
