"""Numbers for the working: display units, digits, and how many digits a line needs.

A line is printed with just enough figures that a calculator fed with what is printed lands on the
printed result; the number of figures is found by doing exactly that.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from ..model import Settings
from ..units.rounding import significant
from ..units.table import FOOT_M, POUND_FORCE_N
from .expression import Expression, Number, Symbol, evaluate, free_symbols, substitute

# Figures beyond which a double has no correct digit left to print.
MOST_FIGURES = 15
# A result smaller than this part of the terms it is the sum of is nothing but rounding.
NOTHING = 1e-9


# Standard gravity, 9.80665 m/s², is the longest number people give.
_TYPED_FIGURES = 6


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as written, in siunitx, and as read aloud for one and for many."""

    written: str
    latex: str
    one: str
    many: str


UNITS: dict[str, Unit] = {
    "N": Unit("N", r"\newton", "newton", "newtons"),
    "m": Unit("m", r"\metre", "metre", "metres"),
    "N m": Unit("N·m", r"\newton\metre", "newton metre", "newton metres"),
    "N/m": Unit("N/m", r"\newton\per\metre", "newton per metre", "newtons per metre"),
    "lbf/ft": Unit("lbf/ft", r"\lbf\per\foot", "pound-force per foot", "pounds-force per foot"),
    "deg": Unit("°", r"\degree", "degree", "degrees"),
    "kg": Unit("kg", r"\kilogram", "kilogram", "kilograms"),
    "m/s2": Unit("m/s²", r"\metre\per\second\squared", "metre per second squared", "metres per second squared"),
    "ft/s2": Unit("ft/s²", r"\foot\per\second\squared", "foot per second squared", "feet per second squared"),
    "lb": Unit("lb", r"\lb", "pound", "pounds"),
    "lbf": Unit("lbf", r"\lbf", "pound-force", "pounds-force"),
    "ft": Unit("ft", r"\foot", "foot", "feet"),
    "lbf ft": Unit("lbf·ft", r"\lbf\foot", "pound-force foot", "pound-force feet"),
}


@dataclass(frozen=True, slots=True)
class Display:
    """The units numbers are shown in, and how many of each one stored unit is."""

    force: str
    length: str
    torque: str
    per_newton: float
    per_metre: float
    figures: int

    @property
    def intensity(self) -> str:
        """The unit of a load on each length: N/m or lbf/ft."""
        return f"{self.force}/{self.length}"

    def factor(self, unit: str) -> float:
        """What a stored value (N, m, N m) is multiplied by to be shown in this unit."""
        if unit == self.force:
            return self.per_newton
        if unit == self.length:
            return self.per_metre
        if unit == self.torque:
            return self.per_newton * self.per_metre
        if unit == self.intensity:
            return self.per_newton / self.per_metre
        return 1.0


def display(settings: Settings) -> Display:
    """The display units of a sketch."""
    if settings.units == "us":
        return Display("lbf", "ft", "lbf ft", 1.0 / POUND_FORCE_N, 1.0 / FOOT_M, settings.significant_figures)
    return Display("N", "m", "N m", 1.0, 1.0, settings.significant_figures)


# While something is dragged most numbers of a working stay as they are.
_REMEMBERED = 2048


@lru_cache(_REMEMBERED)
def digits(value: float, figures: int) -> str:
    """A value to so many significant figures in plain notation, halves away from zero.

    >>> digits(1176.75, 3), digits(-0.05, 2), digits(0.0, 3)
    ('1180', '-0.050', '0')
    """
    rounded = significant(value, figures)
    if rounded == 0:
        return "0"
    exponent = rounded.adjusted() - figures + 1
    return f"{rounded.quantize(Decimal(1).scaleb(min(0, exponent))):f}" if exponent <= 0 else f"{rounded:f}"


@lru_cache(_REMEMBERED)
def shortest(value: float, figures: int) -> str:
    """The digits to at most so many figures, without zeros that a value exact in fewer does not need.

    A value with up to six figures of its own, as people type them, is shown with all of them.
    """
    text = digits(value, max(figures, _TYPED_FIGURES))
    if abs(float(text) - value) > 1e-13 * abs(value):
        text = digits(value, figures)
    if "." in text and abs(float(text) - value) <= 1e-12 * abs(value):
        text = text.rstrip("0").rstrip(".")
    return text


def number(value: float, unit: str, figures: int, of: str = "") -> Number:
    """A number with its digits."""
    return Number(value, shortest(value, figures), unit, of)


@dataclass(frozen=True, slots=True)
class Known:
    """The value behind a symbol, in display units."""

    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class Worked:
    """An expression with its numbers put in, and the value a calculator gives for it."""

    numbers: Expression
    result: Number


def put_in(
    expression: Expression, known: Mapping[Symbol, Known], unit: str, figures: int, *, scale: float = 0.0
) -> Worked:
    """Numbers put in for symbols, with the fewest figures that still give the printed result.

    `scale` is the size of the terms the result is the sum of; a result below rounding of it is zero.
    KeyError when a symbol has no value.
    """
    symbols = free_symbols(expression)
    plain = {symbol: known[symbol].value for symbol in symbols}
    value = evaluate(expression, plain)
    if abs(value) <= NOTHING * max(scale, 1e-300):
        value = 0.0
    target = digits(value, figures)
    for more in range(figures + 1, MOST_FIGURES + 1):
        printed = evaluate(expression, {s: float(shortest(plain[s], more)) for s in symbols}, printed=True)
        if lands_on(printed, target, figures, scale):
            break
    else:
        # A value that sits exactly on a half: what the printed line gives is what is printed.
        target = digits(printed, figures)
    line = substitute(expression, {s: number(plain[s], known[s].unit, more, s.of) for s in symbols})
    return Worked(line, Number(value, target, unit))


def lands_on(printed: float, target: str, figures: int, scale: float) -> bool:
    """Whether a calculator's result, to so many figures, reads as the target.

    A sum that is zero reads so when what is left is under half a unit in the last figure of its terms.
    """
    if float(target) == 0.0:
        return abs(printed) <= 0.5 * 10.0 ** (-figures) * scale or printed == 0.0
    return digits(printed, figures) == target


def local(text: str, *, comma: bool) -> str:
    """Digits as people read them: real minus, thin spaces in groups of three, point or comma.

    Four digits in a row stay ungrouped (SI Brochure 5.4.4).
    """
    sign = "−" if text.startswith("-") else ""
    whole, _, rest = text.lstrip("-").partition(".")
    if len(whole) > 4:
        head = len(whole) % 3
        groups = ([whole[:head]] if head else []) + [whole[i : i + 3] for i in range(head, len(whole), 3)]
        whole = "\u2009".join(groups)
    mark = "," if comma else "."
    return f"{sign}{whole}{mark + rest if rest else ''}"
