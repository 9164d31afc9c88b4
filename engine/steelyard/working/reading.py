"""A working as it is read: by sums or by geometry, with what the layout alone says, as far as it is wanted."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from typing import Literal, NamedTuple

from ..model import Sketch
from ..statics.holding import BACK
from ..statics.reading import Analysis
from ..statics.theorems import theorems
from .desk import Options
from .geometry_way import by_geometry
from .phrases import sentence
from .record import Step, Working
from .replacing import spread_loads
from .steps import each_step, without_numbers
from .theorem_words import theorem_sentences

Way = Literal["sums", "geometry"]


class Read(NamedTuple):
    """The first steps of a working. `total` counts all steps; None while they were not counted."""

    working: Working
    rest: Iterator[Step]
    total: int | None

    @property
    def whole(self) -> bool:
        """Whether no step comes after these; looking for one works the next out, so ask once."""
        return self.total == len(self.working.steps) if self.total is not None else next(self.rest, None) is None

    @property
    def finds(self) -> frozenset[str]:
        """The parts these steps have found a value for, on both bodies of a joint.

        The size of a force along the line of a two-force member tells both its components.
        """
        keys = {
            key for step in self.working.steps if any(line.kind == "value" for line in step.lines) for key in step.finds
        }
        keys |= {f"{key}.{axis}" for key in keys if "." not in key for axis in "xy"}
        return frozenset(name for key in keys for name in (key, *_partners(key)))


def _partners(key: str) -> tuple[str, str]:
    """The same part of the other force of a third-law pair, whichever of the two this is."""
    force, dot, part = key.partition(".")
    return f"{force}{BACK}{dot}{part}", f"{force.removesuffix(BACK)}{dot}{part}"


def read(sketch: Sketch, analysis: Analysis, options: Options, way: Way, most: int, *, count: bool = False) -> Read:
    """The first `most` steps; with `count`, the others are worked out too, but only to be counted."""
    rest = _steps(sketch, analysis, options, way)
    steps = tuple(islice(rest, most))
    total = len(steps) + sum(1 for _ in rest) if count else len(steps) if len(steps) < most else None
    return Read(Working(analysis.body, steps, sketch.settings.decimal_comma, options.symbols_only), rest, total)


def _steps(sketch: Sketch, analysis: Analysis, options: Options, way: Way) -> Iterator[Step]:
    sums = each_step(sketch, analysis, options)
    # What acts on the body comes first in every way: isolate it, and put one force in place of each spread load.
    yield from islice(sums, 1 + len(spread_loads(sketch, analysis)))
    geometry = by_geometry(sketch, analysis, options=options) if way == "geometry" else ()
    if geometry:
        yield from (without_numbers(step) for step in geometry) if options.symbols_only else geometry
        return
    seen = layout(sketch, analysis)
    if seen is not None:
        yield seen
    yield from sums


def has_geometry(sketch: Sketch, analysis: Analysis) -> bool:
    """Whether there is a working by the geometry of three forces."""
    return bool(by_geometry(sketch, analysis))


def layout(sketch: Sketch, analysis: Analysis) -> Step | None:
    """What the layout alone says, where it shortens the sums; three concurrent forces are a way of their own."""
    if all(each.kind == "three-forces" for each in theorems(analysis)):
        return None
    # Two-force members of joined bodies have steps of their own.
    without = ("three-forces",) if analysis.whole is None else ("three-forces", "two-force")
    said = tuple(
        each
        for each in theorem_sentences(sketch, analysis)
        if each.fact is not None and each.fact.data["kind"] not in without
    )
    return Step("theorem", sentence("Before any sum"), why=said) if said else None
