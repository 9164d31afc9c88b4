"""What supports lack and how they fail, how far unknowns reach and what is used: as data, and as rows of a table."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..geometry import angle_of
from ..model import Sketch
from ..statics.conditions import ONE_VALUE
from ..statics.reach import End, Reach, Reaction, reaches
from ..statics.reading import Analysis, SupportsVerdict
from ..statics.use import uses
from ..units import Kind, write_exact, write_quantity

Data = dict[str, object]
_NAMES = {"x": " along x", "y": " along y", "size": "", "couple": ""}
_SUFFIXES = {"x": ".x", "y": ".y", "place": ".place"}


def failure_data(supports: SupportsVerdict) -> Data:
    """What a balance would need beside what there is, the ways in which it fails, and what is at its very limit."""
    return {
        "lacks": [
            {"force": each.force, "kind": each.kind, "needed": _finite(each.needed), "there": each.there}
            for each in supports.lacks
        ],
        "ways": [
            [
                {
                    "force": mode.force,
                    "mode": mode.kind,
                    "slips_deg": angle_of(mode.way) if any(mode.way) else None,
                    "tips_over_m": None if mode.end is None else list(mode.end),
                }
                for mode in way.modes
            ]
            for way in supports.ways
        ],
        "at_limit": list(supports.at_limit),
    }


def ranges_data(found: Sequence[Reach]) -> list[Data]:
    """The reach of every unknown that the equations leave open, with the sets of reactions at its two ends."""
    return [
        {
            "part": each.force + _SUFFIXES.get(each.part, ""),
            "one_value": bool(each.one_value),
            "least": _end(each.least),
            "most": _end(each.greatest),
        }
        for each in found
        if each.one_value != "equations"
    ]


def reach_rows(sketch: Sketch, analysis: Analysis) -> list[tuple[str, ...]]:
    """How far each unknown reaches that has no single value, for reading in a terminal."""
    forces = {reading.force.id: reading.force for reading in analysis.readings}
    rows: list[tuple[str, ...]] = []
    for each in reaches(sketch, analysis.body):
        if each.one_value or each.part == "place" or each.force not in forces:
            continue
        force = forces[each.force]
        kind: Kind = "couple" if each.part == "couple" else "force"
        least, most = (
            write_quantity(end.value, kind, sketch.settings) if math.isfinite(end.value) else "any"
            for end in (each.least, each.greatest)
        )
        along = f" along {write_quantity(angle_of(force.along), 'angle', sketch.settings)}" if (
            each.part == "size" and force.along is not None
        ) else ""  # fmt: skip
        rows.append((force.symbol + _NAMES[each.part] + along, "", least, "to", most))
    return rows


def use_rows(sketch: Sketch, analysis: Analysis) -> list[tuple[str, ...]]:
    """What is used of friction and of faces, beside what is there, for reading in a terminal."""
    forces = {reading.force.id: reading.force for reading in analysis.readings}
    rows: list[tuple[str, ...]] = []
    for each in uses(sketch, analysis.body):
        if each.least is None or each.greatest is None or each.force not in forces:
            continue
        force = forces[each.force]
        kind: Kind = "number" if each.kind == "friction" else "length"
        normal = forces[force.normal].symbol if force.normal in forces else "N"
        name = f"{force.symbol}/{normal}" if each.kind == "friction" else f"{force.symbol} off the middle"
        ends = (0.0 if each.least * each.greatest <= 0.0 else min(abs(each.least), abs(each.greatest)),
                max(abs(each.least), abs(each.greatest)))  # fmt: skip
        least, most = (write_quantity(end, kind, sketch.settings) for end in ends)
        used = most if each.greatest - each.least <= ONE_VALUE * max(1.0, each.limit) else f"{least} to {most}"
        rows.append((name, "", used, "of", write_exact(each.limit, kind, sketch.settings)))
    return rows


def _end(end: End) -> Data:
    return {
        "value": _finite(end.value),
        "reactions": _reactions(end.witness),
        "grows": None if end.grows is None else _reactions(end.grows),
    }


def _reactions(reactions: Sequence[Reaction]) -> list[Data]:
    return [
        {
            "force": each.force,
            "fx_n": each.vector[0] + 0.0,
            "fy_n": each.vector[1] + 0.0,
            "couple_n_m": each.couple_n_m + 0.0,
            "point_m": list(each.point),
        }
        for each in reactions
    ]


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None
