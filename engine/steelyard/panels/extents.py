"""How far the unknowns that statics cannot tell may reach: worked out once for all that says it on the page."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from ..model import Settings, Sketch
from ..statics.reach import Reach, reaches
from ..statics.reading import ActingForce, Analysis
from ..statics.use import Use, uses
from ..units import Kind, write_quantity
from .words import spoken_symbol, symbol_runs

Data = dict[str, object]
Run = dict[str, str]


@dataclass(frozen=True, slots=True)
class Extents:
    """The letter of μ of each rough contact; ranges and use by the id of a force, where there is more than one answer.

    With answers kept back there are letters only.
    """

    letters: Mapping[str, str] = field(default_factory=dict)
    reaches: Mapping[str, tuple[Reach, ...]] = field(default_factory=dict)
    uses: Mapping[str, Use] = field(default_factory=dict)


def extents(sketch: Sketch, analysis: Analysis | None) -> Extents:
    """What may be said of a sketch: asked for only where answers are shown and not all of them are single values."""
    letters = {support.id: support.mu_symbol for support in sketch.supports if support.mu is not None}
    if analysis is None or sketch.answers == "kept" or analysis.supports.kind != "indeterminate":
        return Extents(letters)
    found: dict[str, tuple[Reach, ...]] = {}
    for reach in reaches(sketch, analysis.body):
        if not reach.one_value:
            found[reach.force] = (*found.get(reach.force, ()), reach)
    return Extents(letters, found, {each.force: each for each in uses(sketch, analysis.body)} if found else {})


_KINDS: dict[str, Kind] = {"x": "force", "y": "force", "size": "force", "couple": "couple"}


def range_lines(force: ActingForce, known: Extents, settings: Settings) -> list[Data]:
    """A line for each part of a force that is not one value: "between 895 N and 975 N"; a place has a bar instead."""
    return [_line(force, reach, settings) for reach in known.reaches.get(force.id, ()) if reach.part in _KINDS]


def _line(force: ActingForce, reach: Reach, settings: Settings) -> Data:
    words = between(reach.least.value, reach.greatest.value, _KINDS[reach.part], settings)
    symbol = symbol_runs(force.symbol)
    said = spoken_symbol(force.symbol)
    if reach.part in ("x", "y"):
        symbol = [*symbol, {"text": reach.part, "role": "sub"}]
        said = f"{said} {reach.part}"
    runs = [*symbol, {"text": f" {words}", "role": "value"}]
    return {"key": f"range-{reach.part}", "runs": runs, "spoken": f"{said} {words}", "share": None, "from": None,
            "mark": None, "over": False}  # fmt: skip


def between(least: float, greatest: float, kind: Kind, settings: Settings) -> str:
    """ "between 895 N and 975 N", "at least 895 N", "at most 975 N", "of any size"."""
    low, high = (write_quantity(value, kind, settings) if math.isfinite(value) else "" for value in (least, greatest))
    if low and high:
        return f"between {low} and {high}"
    return f"at least {low}" if low else f"at most {high}" if high else "of any size"
