"""Where friction reaches its limit, or a normal the end of its face, as one number goes from end to end."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial

from ..program import ROUNDING_TOLERANCE
from ..statics import giving_way
from ..statics.failing import pressed_end
from ..statics.reading import ActingForce
from .changes import Change, ChangeKind
from .roots import Function, roots
from .scan import SAMPLES, Scan


def of_bounds(scan: Scan) -> list[Change]:
    """Where friction reaches its limit, or a normal the end of its face, of unknowns that have one answer."""
    found: list[Change] = []
    if scan.lettered:
        return found
    unknowns = scan.unknowns()
    for number, (column, normal, _) in enumerate(scan.bounds()):
        force, part, _ = unknowns[column]
        if not scan.concerns(column):
            continue
        for sense in (1.0, -1.0):
            function = partial(scan.room, number, sense)
            values = [function(place) for place in scan.places]
            if not all(map(math.isfinite, values)) or is_rounding(scan, values):
                continue
            for value in roots(function, scan.places, values):
                pressed = scan.value(normal, value)
                if scan.loses_hold(value) or pressed is None:
                    continue
                if pressed > ROUNDING_TOLERANCE * scan.scale_n(value):  # else it lifts off, and holds nothing
                    side = _beyond(scan, function, value)
                    kind: ChangeKind = "tips" if part == "place" else "slips"
                    found.append(
                        Change(value, kind, force.id, "", _bound_sentence(scan, force, kind, sense, side, value))
                    )
    return found


def _beyond(scan: Scan, function: Function, value: float) -> str:
    """On which side of a value a bound is not kept."""
    step = 1e-6 * scan.span
    for place, said in ((min(scan.high, value + step), "above this"), (max(scan.low, value - step), "below this")):
        if function(place) * scan.turn(place) < 0.0:
            return said
    return ""


def _bound_sentence(scan: Scan, force: ActingForce, kind: ChangeKind, sense: float, side: str, value: float) -> str:
    if kind == "tips":
        here = scan.forces(value)[force.id]
        assert here.face is not None
        end = here.face[pressed_end(here, sense)]
        doing = f"tipping over the {giving_way.end_of(here, end)} end of its face"
        start = f"{force.symbol} acts at the end of its face here"
    else:
        x, y = force.along or (0.0, 0.0)
        doing = f"slipping {giving_way.towards((0.0 - sense * x, 0.0 - sense * y), scan.sketch.settings)}"
        start = f"{force.symbol} is all the friction there is here"
    return f"{start}; {side} nothing keeps the {force.on} from {doing} {giving_way.at(force)}." if side else f"{start}."


def is_rounding(scan: Scan, values: Sequence[float]) -> bool:
    """Whether what was sampled is nothing but rounding beside the loads."""
    scale = max(map(scan.scale_n, scan.places[:: SAMPLES // 8]))
    return max(map(abs, values)) <= ROUNDING_TOLERANCE * scale
