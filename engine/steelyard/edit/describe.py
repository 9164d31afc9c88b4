"""What a hand is doing, in words and digits."""

from __future__ import annotations

from ..geometry import Point
from ..model import Body, Force, Sketch, SpreadLoad, Support
from ..statics import shape
from ..statics.holding import anchor
from ..units import unit_of, write_exact, write_quantity
from . import circles, facing, grips, pieces, spreading
from .change import find, name_of, world_place
from .snapping import Snapped
from .unknowns import guess_of, part_of, symbol_of


def point_text(sketch: Sketch, point: Point) -> str:
    """ "(1.2, 3.2) m" in shown units."""
    settings = sketch.settings
    x, y = (short(sketch, part) for part in point)
    between = "; " if settings.decimal_comma else ", "
    return f"({x}{between}{y})\u00a0{unit_of('length', settings)}"


def short(sketch: Sketch, length_m: float) -> str:
    """A length as typed when it is short, else rounded."""
    exact = write_exact(length_m, "length", sketch.settings, with_unit=False)
    return exact if len(exact) <= 8 else write_quantity(length_m, "length", sketch.settings, with_unit=False)


def readout(sketch: Sketch, of: str, grip: str, snapped: Snapped | None) -> str:
    """One short line: the value being changed, and what it is caught by. Never an answer."""
    value = _value(sketch, of, grip)
    caught = snapped.label if snapped is not None and snapped.kind in ("point", "crossing", "direction") else ""
    return f"{value} · {caught}" if caught and caught not in value else value


def _value(sketch: Sketch, of: str, grip: str) -> str:
    settings = sketch.settings
    if of in grips.PIVOTS:
        return point_text(sketch, grips.pivot_place(sketch, of))
    entity = find(sketch, of)
    if isinstance(entity, Body):
        return _of_body(sketch, entity, "centre" if of != entity.id else grip)
    if isinstance(entity, SpreadLoad):
        return _of_spread(sketch, entity, grip)
    if grip in grips.PLACE_GRIPS or grip == "slide":
        if entity.body is not None and sketch.body(entity.body).kind == "bar":
            return f"{short(sketch, entity.place_m[0])}\u00a0{unit_of('length', settings)} along"
        return point_text(sketch, world_place(sketch, entity))
    if (value := grips.couple_value(entity, of)) is not None:
        symbol = entity.couple_symbol if isinstance(entity, Support) else name_of(entity)
        sense = "" if value == 0.0 else f" {settings.counterclockwise_word if value > 0.0 else 'clockwise'}"
        return f"{symbol} {write_quantity(abs(value), 'couple', settings)}{sense}"
    if isinstance(entity, Support) and grip in facing.ENDS and entity.face_m is not None:
        begin, stop = (short(sketch, each) for each in facing.distances(entity, sketch.body(entity.body)))
        return f"{begin} to {stop}\u00a0{unit_of('length', settings)}"
    if isinstance(entity, Support) and part_of(entity, of) == "" and entity.guess is None:
        far = anchor(sketch, entity)
        if grip == "pulley" and entity.over_m is not None:
            return point_text(sketch, entity.over_m)
        if grip in ("head", "anchor") and far is not None:
            return point_text(sketch, far)
        if grip in ("head", "normal") and entity.kind in ("roller", "contact"):
            return write_quantity(entity.normal_deg, "angle", settings)
    if isinstance(entity, Support | Force):
        guess = guess_of(entity, of)
        if guess is not None:
            return _arrow(sketch, symbol_of(entity, of), guess.size_n, guess.direction_deg)
        if isinstance(entity, Force):
            return _arrow(sketch, entity.symbol, entity.size_n, entity.direction_deg)
    return ""


def _of_spread(sketch: Sketch, load: SpreadLoad, grip: str) -> str:
    """From where to where a spread load lies, or how much of it there is where it is held."""
    settings = sketch.settings
    if grip in spreading.HEIGHTS:
        value = (load.start_n_per_m if grip.startswith("start") else load.end_n_per_m) or 0.0
        return f"{load.spread_symbol} {write_quantity(value, 'intensity', settings)}"
    begin, stop = (short(sketch, each) for each in spreading.distances(load, sketch.body(load.body)))
    return f"{begin} to {stop}\u00a0{unit_of('length', settings)}"


def _arrow(sketch: Sketch, symbol: str, size_n: float | None, direction_deg: float) -> str:
    angle = write_quantity(direction_deg, "angle", sketch.settings)
    if size_n is None:
        return f"{symbol} at {angle}"
    return f"{symbol} {write_quantity(size_n, 'force', sketch.settings)} at {angle}"


def _of_body(sketch: Sketch, body: Body, grip: str) -> str:
    if body.kind == "bar" and grip in ("start", "end"):
        angle = write_quantity(body.angle_deg, "angle", sketch.settings)
        return f"{short(sketch, body.length_m)}\u00a0{unit_of('length', sketch.settings)} at {angle}"
    if grip == "centre":
        return point_text(sketch, shape.centre_of_mass(body))
    if (piece := pieces.piece_of(body, grip)) is not None:
        return point_text(sketch, shape.world(body, body.pieces[piece].centre_m))
    if (circle := _circle(body, grip)) is not None:
        centre, radius, by_rim = circle
        unit = unit_of("length", sketch.settings)
        return (
            f"radius {short(sketch, radius)}\u00a0{unit}" if by_rim else point_text(sketch, shape.world(body, centre))
        )
    index = grips.corner_index(body, grip)
    return point_text(sketch, body.origin_m if index is None else shape.world(body, body.points_m[index]))


def _circle(body: Body, grip: str) -> tuple[Point, float, bool] | None:
    """Centre and radius of the circle a grip holds, and whether by its rim; None for other grips."""
    if body.kind == "disc" and grip == "rim":
        return (0.0, 0.0), body.radius_m, True
    held = circles.hole_of(body, grip)
    if held is None:
        return None
    hole = body.round_holes[held[0]]
    return hole.centre_m, hole.radius_m, held[1]
