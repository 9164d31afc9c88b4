"""Quantities as people read them: figures, units, a real minus sign, thin-space groups, point or comma."""

from __future__ import annotations

import math
from functools import lru_cache

from .rounding import significant
from .table import SHOWN, Kind, Shown, ShownUnit

MINUS = "\u2212"
THIN_SPACE = "\u2009"
NO_BREAK_SPACE = "\u00a0"
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
# What is typed is shown as typed; ten digits hide the last bits of a conversion and nothing a person enters.
_EXACT_DIGITS = 10
# Outside these, zeros would be counted instead of read.
_PLAIN_FROM, _PLAIN_BELOW = 1e-4, 1e9


def write_quantity(
    value: float, kind: Kind, settings: Shown, *, with_unit: bool = True, figures: int | None = None
) -> str:
    """A computed value, rounded to the significant figures of the settings (or `figures`), trailing zeros kept.

    Large forces and couples step up to kN and MN when the unit is written. A value that is not finite
    reads "–". Rounding is for the eye only.

    >>> from steelyard.model import Settings
    >>> write_quantity(2146.1, "force", Settings(significant_figures=4))
    '2146\\xa0N'
    """
    digits = figures if figures is not None else settings.significant_figures
    return _written(value, kind, settings.units, settings.decimal_comma, digits, with_unit)


@lru_cache(maxsize=4096)
def _written(value: float, kind: Kind, units: str, decimal_comma: bool, figures: int, with_unit: bool) -> str:
    """Most values of a moving sketch stand still, so most are written once."""
    if not math.isfinite(value):
        return "–"
    unit = _unit_for(value, kind, units) if with_unit else SHOWN[units][kind][0]
    return _with_unit(_rounded(value / unit.factor, figures), unit, decimal_comma, with_unit)


def write_exact(value: float, kind: Kind, settings: Shown, *, with_unit: bool = True) -> str:
    """A stored value as it was typed: the shortest digits, ten at most, always in the shown unit.

    >>> from steelyard.model import Settings
    >>> write_exact(5.2, "length", Settings())
    '5.2\\xa0m'
    """
    if not math.isfinite(value):
        return "–"
    unit = SHOWN[settings.units][kind][0]
    text = _plain(f"{value / unit.factor:.{_EXACT_DIGITS - 1}e}", trim=True)
    return _with_unit(text, unit, settings.decimal_comma, with_unit)


def spoken_quantity(value: float, kind: Kind, settings: Shown, *, exact: bool = False) -> str:
    """The quantity for the ear: "minus 12 degrees", "2146 newtons"; grouping left out, the unit in words."""
    if not math.isfinite(value):
        return "not known"
    unit = SHOWN[settings.units][kind][0] if exact else _unit_for(value, kind, settings.units)
    if exact:
        text = write_exact(value, kind, settings, with_unit=False)
    else:
        text = _with_unit(
            _rounded(value / unit.factor, settings.significant_figures), unit, settings.decimal_comma, False
        )
    words = text.replace(THIN_SPACE, "").replace(MINUS, "minus ")
    return f"{words} {unit.spoken}".strip()


def _unit_for(value: float, kind: Kind, units: str) -> ShownUnit:
    steps = SHOWN[units][kind]
    return next(unit for unit in reversed(steps) if abs(value) >= unit.from_size)


def _rounded(value: float, figures: int) -> str:
    return "0" if value == 0.0 else _plain(f"{significant(value, figures):.{figures - 1}e}", trim=False)


def _plain(scientific: str, trim: bool) -> str:
    """Digits in scientific notation, written out; `trim` drops zeros after the point."""
    mantissa, _, power = scientific.partition("e")
    exponent = int(power)
    sign = "-" if mantissa.startswith("-") else ""
    digits = mantissa.lstrip("-").replace(".", "")
    if trim:
        digits = digits.rstrip("0") or "0"
    if not digits.strip("0"):
        return "0"
    size = float(scientific)
    if not _PLAIN_FROM <= abs(size) < _PLAIN_BELOW and not (trim and abs(size) >= 1.0):
        tail = f".{digits[1:]}" if len(digits) > 1 else ""
        return f"{sign}{digits[0]}{tail}×10{str(exponent).translate(_RAISED)}"
    if exponent < 0:
        return f"{sign}0.{'0' * (-exponent - 1)}{digits}"
    whole, rest = digits[: exponent + 1].ljust(exponent + 1, "0"), digits[exponent + 1 :]
    return f"{sign}{whole}.{rest}" if rest else f"{sign}{whole}"


def _with_unit(plain: str, unit: ShownUnit, decimal_comma: bool, with_unit: bool) -> str:
    number, times, power = plain.partition("×")
    whole, point, rest = number.lstrip("-").partition(".")
    if len(whole) > 4:
        first = len(whole) % 3 or 3
        groups = [whole[:first], *(whole[start : start + 3] for start in range(first, len(whole), 3))]
        whole = THIN_SPACE.join(groups)
    if point and decimal_comma:
        point = ","
    text = f"{MINUS if number.startswith('-') else ''}{whole}{point}{rest}{times}{power}"
    if not with_unit or not unit.sign:
        return text
    return text + unit.sign if unit.sign == "°" else f"{text}{NO_BREAK_SPACE}{unit.sign}"
