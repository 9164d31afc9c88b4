"""The little arithmetic a field understands: numbers with units, + − × / and brackets. Nothing is ever executed."""

from __future__ import annotations

import re
from dataclasses import dataclass

from .table import NUMBER, UNITS, UNITS_ANY_CASE, Dimension

# Thin, narrow no-break, no-break and figure spaces group digits; so does a plain space before exactly three digits.
_GROUP = "[ \u00a0\u2007\u2009\u202f']"
_WHOLE = rf"(?:\d{{1,3}}(?:{_GROUP}\d{{3}})+(?!\d)|\d+)"
_NUMBER = re.compile(
    rf"(?:{_WHOLE}(?:[.,]\d+)*(?:[.,](?![\d.,]))?|[.,]\d+)(?:[eE][+\-−]?\d+(?![A-Za-z]))?",
    re.ASCII,
)
_WORD = re.compile(r"([A-Za-z]+|°)(²|\^2|2)?")
# "6.1×10⁻⁵", as small and large values are written.
_POWER = re.compile(r"[×*·]10([⁻⁺]?[⁰¹²³⁴⁵⁶⁷⁸⁹]{1,3})")
_LOWERED = str.maketrans("⁻⁺⁰¹²³⁴⁵⁶⁷⁸⁹", "-+0123456789")
_SIGNS = {"+": "+", "-": "-", "−": "-", "–": "-", "*": "*", "×": "*", "·": "*", "⋅": "*", "/": "/", "÷": "/"}
# Enough for any sum a person types, and shallow enough for the smallest stack the engine runs on.
_DEEPEST = 20


class Unreadable(Exception):
    """Text that is not an expression: `args[0]` says what is wrong, as the end of a sentence."""


@dataclass(frozen=True, slots=True)
class Measured:
    """A value in stored units with its dimension."""

    value: float
    dimension: Dimension


@dataclass(frozen=True, slots=True)
class Expression:
    """What was read: `bare` when no unit was given; `note` says how an ambiguous number was taken."""

    measured: Measured
    bare: bool
    note: str


Token = float | Measured | str


def evaluate(text: str) -> Expression:
    """The value of an expression; raises `Unreadable`.

    A single unit at the end belongs to all before it ("6/2 m" is 3 m). Otherwise every unit belongs to
    the number before it ("3 kN * 2 m" is 6 kN m), and what is added must be of one dimension.
    """
    tokens, note = _tokens(text)
    if not tokens:
        raise Unreadable("there is nothing in it")
    first_unit = next((place for place, token in enumerate(tokens) if isinstance(token, Measured)), None)
    if first_unit is None:
        return Expression(_Parser(tokens).whole(), True, note)
    tail = tokens[first_unit:]
    if not any(isinstance(token, float) or token in ("(", ")", "+", "-") for token in tail):
        head = tokens[:first_unit]
        if head and head[-1] == "*":
            head.pop()
        if not head:
            raise Unreadable("there is a unit but no number")
        value, unit = _Parser(head).whole(), _Parser(tail).whole()
        return Expression(Measured(value.value * unit.value, unit.dimension), False, note)
    return Expression(_Parser(tokens).whole(), False, note)


def _tokens(text: str) -> tuple[list[Token], str]:
    found: list[Token] = []
    note = ""
    text = _POWER.sub(lambda power: "e" + power.group(1).translate(_LOWERED), text)
    place = 0
    while place < len(text):
        letter = text[place]
        if letter.isspace():
            place += 1
        elif letter in _SIGNS:
            found.append(_SIGNS[letter])
            place += 1
        elif letter in "()":
            found.append(letter)
            place += 1
        elif number := _NUMBER.match(text, place):
            value, remark = _number(number.group())
            found.append(value)
            note = note or remark
            place = number.end()
        elif word := _WORD.match(text, place):
            found.append(_unit(word.group(1), bool(word.group(2))))
            place = word.end()
        else:
            raise Unreadable(f"“{letter}” has no meaning here")
    return found, note


def _number(text: str) -> tuple[float, str]:
    """One number, with a comma or a point; both together, or one of them twice, group digits."""
    plain = re.sub(_GROUP, "", text).replace("−", "-")
    points, commas = plain.count("."), plain.count(",")
    note = ""
    if points and commas:
        last = max(plain.rfind("."), plain.rfind(","))
        group = "," if plain[last] == "." else "."
        if plain.count(plain[last]) > 1 or not re.fullmatch(rf"\d{{1,3}}(?:\{group}\d{{3}})+", plain[:last]):
            raise Unreadable(f"“{text}” has points and commas that do not fit together")
        plain = plain[:last].replace(group, "") + "." + plain[last + 1 :]
    elif points + commas > 1:
        group = "." if points else ","
        if not re.fullmatch(rf"\d{{1,3}}(?:\{group}\d{{3}})+", plain):
            raise Unreadable(f"“{text}” has more than one decimal {'point' if points else 'comma'}")
        plain = plain.replace(group, "")
    elif commas:
        plain = plain.replace(",", ".")
        if re.fullmatch(r"[1-9]\d{0,2}\.\d{3}", plain):
            note = f"{text} was read as {float(plain):g}, with a decimal comma."
    return float(plain), note


def _unit(word: str, squared: bool) -> Measured:
    unit = UNITS.get(word) or UNITS_ANY_CASE.get(word.lower())
    if unit is None:
        raise Unreadable(f"“{word}” is not a unit known here")
    factor, dimension = unit
    return (
        Measured(factor, dimension) if not squared else _times(Measured(factor, dimension), Measured(factor, dimension))
    )


def _times(first: Measured, second: Measured, sign: int = 1) -> Measured:
    a, b = first.dimension, second.dimension
    dimension = (a[0] + sign * b[0], a[1] + sign * b[1], a[2] + sign * b[2], a[3] + sign * b[3])
    if sign > 0:
        return Measured(first.value * second.value, dimension)
    if second.value == 0.0:
        raise Unreadable("it divides by zero")
    return Measured(first.value / second.value, dimension)


class _Parser:
    """sum = product {± product}; product = factor {× factor}; factor = {±} (number | unit | bracket) {unit}."""

    def __init__(self, tokens: list[Token]) -> None:
        self.tokens = tokens
        self.place = 0

    def whole(self) -> Measured:
        value = self.sum(0)
        if self.place < len(self.tokens):
            raise Unreadable("it goes on where it should end")
        return value

    def next(self) -> Token | None:
        return self.tokens[self.place] if self.place < len(self.tokens) else None

    def sum(self, depth: int) -> Measured:
        total = self.product(depth)
        while self.next() in ("+", "-"):
            sign = 1.0 if self.tokens[self.place] == "+" else -1.0
            self.place += 1
            term = self.product(depth)
            if term.dimension != total.dimension:
                raise Unreadable("its terms are not of one kind; give every term its unit")
            total = Measured(total.value + sign * term.value, total.dimension)
        return total

    def product(self, depth: int) -> Measured:
        value = self.factor(depth)
        while self.next() in ("*", "/"):
            sign = 1 if self.tokens[self.place] == "*" else -1
            self.place += 1
            value = _times(value, self.factor(depth), sign)
        return value

    def factor(self, depth: int) -> Measured:
        sign = 1.0
        while self.next() in ("+", "-"):
            if self.tokens[self.place] == "-":
                sign = -sign
            self.place += 1
        token = self.next()
        if token is None:
            raise Unreadable("it stops in the middle")
        self.place += 1
        if token == "(":
            if depth >= _DEEPEST:
                raise Unreadable("its brackets are nested too deeply")
            value = self.sum(depth + 1)
            if self.next() != ")":
                raise Unreadable("a bracket is not closed")
            self.place += 1
        elif isinstance(token, float):
            value = Measured(token, NUMBER)
        elif isinstance(token, Measured):
            value = token
        else:
            raise Unreadable(f"“{token}” stands where a number should")
        while isinstance(unit := self.next(), Measured):
            value = _times(value, unit)
            self.place += 1
        return Measured(sign * value.value, value.dimension)
