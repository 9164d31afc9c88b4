"""The units known: for reading any of them, for writing one per kind of quantity.

Factors are exact by definition where marked (international foot, pound and pound-force); others follow.
Source: NIST Special Publication 811, appendix B (from memory of its tables).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

Kind = Literal["force", "length", "angle", "mass", "couple", "acceleration", "intensity", "number"]
# Exponents of length, mass, time and angle.
Dimension = tuple[int, int, int, int]

NUMBER: Dimension = (0, 0, 0, 0)
LENGTH: Dimension = (1, 0, 0, 0)
MASS: Dimension = (0, 1, 0, 0)
TIME: Dimension = (0, 0, 1, 0)
ANGLE: Dimension = (0, 0, 0, 1)
FORCE: Dimension = (1, 1, -2, 0)
COUPLE: Dimension = (2, 1, -2, 0)
ACCELERATION: Dimension = (1, 0, -2, 0)
INTENSITY: Dimension = (0, 1, -2, 0)

DIMENSIONS: dict[str, Dimension] = {
    "force": FORCE,
    "length": LENGTH,
    "angle": ANGLE,
    "mass": MASS,
    "couple": COUPLE,
    "acceleration": ACCELERATION,
    "intensity": INTENSITY,
    "number": NUMBER,
}

FOOT_M = 0.3048  # exact
POUND_KG = 0.45359237  # exact
POUND_FORCE_N = 4.4482216152605  # exact: POUND_KG × 9.80665
SLUG_KG = POUND_FORCE_N / FOOT_M  # by definition: one pound-force gives it one foot per second squared
DEGREES_PER_RADIAN = 57.29577951308232

UNITS: dict[str, tuple[float, Dimension]] = {
    "N": (1.0, FORCE),
    "kN": (1e3, FORCE),
    "MN": (1e6, FORCE),
    "lbf": (POUND_FORCE_N, FORCE),
    "kip": (1e3 * POUND_FORCE_N, FORCE),
    "m": (1.0, LENGTH),
    "cm": (1e-2, LENGTH),
    "mm": (1e-3, LENGTH),
    "km": (1e3, LENGTH),
    "ft": (FOOT_M, LENGTH),
    "in": (FOOT_M / 12.0, LENGTH),
    "°": (1.0, ANGLE),
    "deg": (1.0, ANGLE),
    "rad": (DEGREES_PER_RADIAN, ANGLE),
    "kg": (1.0, MASS),
    "g": (1e-3, MASS),
    "t": (1e3, MASS),
    "lb": (POUND_KG, MASS),
    "slug": (SLUG_KG, MASS),
    "s": (1.0, TIME),
    # Written together it is a slip, but a clear one.
    "Nm": (1.0, COUPLE),
    "kNm": (1e3, COUPLE),
    "MNm": (1e6, COUPLE),
}
# The same in small letters, where no two units differ by case alone; "MN" written "mn" would be a millinewton.
UNITS_ANY_CASE = {name.lower(): unit for name, unit in UNITS.items() if name not in ("MN", "MNm")}

WORDS: dict[str, str] = {
    "force": "a force",
    "length": "a length",
    "angle": "an angle",
    "mass": "a mass",
    "couple": "a couple",
    "acceleration": "an acceleration",
    "intensity": "a force on each length",
    "number": "a plain number",
}
EXAMPLES: dict[str, str] = {
    "force": "1200 N or 1.2 kN",
    "length": "5.2 m or 520 cm",
    "angle": "30°",
    "mass": "80 kg",
    "couple": "150 N m",
    "acceleration": "9.81 m/s²",
    "intensity": "400 N/m or 0.4 kN/m",
    "number": "3",
}


@dataclass(frozen=True, slots=True)
class ShownUnit:
    """A unit for writing: its sign, what it is in stored units, how it is said, and from which size it is used."""

    sign: str
    factor: float
    spoken: str
    from_size: float = 0.0


# For each kind the shown unit, then larger ones that computed values step up to.
SHOWN: dict[str, dict[str, tuple[ShownUnit, ...]]] = {
    "si": {
        "force": (
            ShownUnit("N", 1.0, "newtons"),
            ShownUnit("kN", 1e3, "kilonewtons", 1e5),
            ShownUnit("MN", 1e6, "meganewtons", 1e8),
        ),
        "length": (ShownUnit("m", 1.0, "metres"),),
        "angle": (ShownUnit("°", 1.0, "degrees"),),
        "mass": (ShownUnit("kg", 1.0, "kilograms"),),
        "couple": (
            ShownUnit("N·m", 1.0, "newton metres"),
            ShownUnit("kN·m", 1e3, "kilonewton metres", 1e5),
            ShownUnit("MN·m", 1e6, "meganewton metres", 1e8),
        ),
        "acceleration": (ShownUnit("m/s²", 1.0, "metres per second squared"),),
        "intensity": (
            ShownUnit("N/m", 1.0, "newtons per metre"),
            ShownUnit("kN/m", 1e3, "kilonewtons per metre", 1e5),
        ),
        "number": (ShownUnit("", 1.0, ""),),
    },
    "us": {
        "force": (
            ShownUnit("lbf", POUND_FORCE_N, "pounds-force"),
            ShownUnit("kip", 1e3 * POUND_FORCE_N, "kips", 1e5 * POUND_FORCE_N),
        ),
        "length": (ShownUnit("ft", FOOT_M, "feet"),),
        "angle": (ShownUnit("°", 1.0, "degrees"),),
        "mass": (ShownUnit("lb", POUND_KG, "pounds"),),
        "couple": (
            ShownUnit("lbf·ft", POUND_FORCE_N * FOOT_M, "pound-force feet"),
            ShownUnit("kip·ft", 1e3 * POUND_FORCE_N * FOOT_M, "kip feet", 1e5 * POUND_FORCE_N * FOOT_M),
        ),
        "acceleration": (ShownUnit("ft/s²", FOOT_M, "feet per second squared"),),
        "intensity": (ShownUnit("lbf/ft", POUND_FORCE_N / FOOT_M, "pounds-force per foot"),),
        "number": (ShownUnit("", 1.0, ""),),
    },
}


class Shown(Protocol):
    """The settings that reading and writing depend on; `model.Settings` has them all."""

    @property
    def g_m_s2(self) -> float:
        """Acceleration of free fall."""

    @property
    def units(self) -> str:
        """Display units: "si" or "us"."""

    @property
    def decimal_comma(self) -> bool:
        """A comma for a decimal point."""

    @property
    def significant_figures(self) -> int:
        """Figures of computed values."""


def unit_of(kind: Kind, settings: Shown) -> str:
    """The sign of the unit in which this kind of quantity is shown and typed; "" for a plain number."""
    return SHOWN[settings.units][kind][0].sign


def factor_of(kind: Kind, settings: Shown) -> float:
    """One shown unit in stored units, so that a round step in feet is round where it is read."""
    return SHOWN[settings.units][kind][0].factor
