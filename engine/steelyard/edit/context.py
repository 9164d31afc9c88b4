"""What a gesture knows of the board, and which points of a sketch are worth catching."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

from ..geometry import Point, add, angle_of, direction, distance, line_crossing, scale, subtract
from ..model import Body, Sketch
from ..statics import meeting, shape
from ..statics.advice import Part, parts_of
from ..statics.holding import anchor
from ..statics.isolate import acting_forces
from ..units import factor_of, unit_of, write_exact
from .change import Attached, tidy_point, world_place
from .shaping import place_on
from .snapping import DIRECTION_STEP_DEG, Candidates, Line, Snapped, Spot, round_step, round_to

# With the lines of more forces than this, crossings are too many to aim at.
MOST_LINES = 16


@dataclass(frozen=True, slots=True)
class Context:
    """The board in metres: `newtons_per_m` of arrow, the catch and release distances, the smallest round step.

    `catch_m` 0 turns snapping off. `intensity_per_m`: what a metre of height in a load diagram stands for, N/m.
    """

    newtons_per_m: float = 1000.0
    catch_m: float = 0.0
    release_m: float = 0.0
    step_m: float = 0.0
    intensity_per_m: float = 1000.0


# A gesture starts from one sketch however often the hand moves: what there is to catch is worked out once for it.
@lru_cache(maxsize=4)
def named_spots(sketch: Sketch, leave_out: str = "") -> tuple[Spot, ...]:
    """Support points, ends and corners, named points, centres of mass and load points, in the world.

    `leave_out` is an entity, or a body with all that is on it and what is at its joints, which goes where it goes.
    """
    found: list[Spot] = []
    joints = [
        meeting.place_on(sketch, support, leave_out)
        for support in sketch.supports
        if leave_out in (support.body, support.other) and meeting.meets(support)
    ]
    attached: tuple[Attached, ...] = (*sketch.supports, *sketch.points, *sketch.loads)
    for entity in attached:
        if leave_out not in (entity.id, entity.body):
            name = entity.name if hasattr(entity, "name") else entity.symbol
            found.append(Spot(world_place(sketch, entity), name, entity.id))
    for body in sketch.bodies:
        if body.id == leave_out:
            continue
        corners = shape.axis(body)
        for index, corner in enumerate(corners):
            found.append(Spot(corner, f"{_corner_word(body, index, len(corners))} of {body.name}", body.id))
        found += [Spot(shape.world(body, at), f"{word} of {body.name}", body.id) for at, word in _middles(body)]
        found.append(Spot(shape.centre_of_mass(body), f"{sketch.settings.mass_centre_word} of {body.name}", body.id))
    for support in sketch.supports:
        far = anchor(sketch, support)
        if far is not None and leave_out not in (support.id, support.other):
            found.append(Spot(far, f"anchor of {support.symbol}"))
        if support.over_m is not None and support.id != leave_out:
            found.append(Spot(support.over_m, f"pulley of {support.symbol}"))
    return tuple(spot for spot in found if all(distance(spot.point, joint) > 1e-9 for joint in joints))


def _corner_word(body: Body, index: int, count: int) -> str:
    if body.kind == "disc":
        return "rim"
    return "end" if not body.has_area and index in (0, count - 1) else "corner"


def _middles(body: Body) -> list[tuple[Point, str]]:
    """Centres of circles: of a disc, and of round holes (body frame)."""
    holes = [(hole.centre_m, "centre of a hole") for hole in body.round_holes]
    return [((0.0, 0.0), "centre"), *holes] if body.kind == "disc" else holes


@lru_cache(maxsize=4)
def crossing_spots(sketch: Sketch) -> tuple[Spot, ...]:
    """Crossings of lines of action of one body's forces that are worth taking torques about.

    Only lines that are known before anything is solved: no catch gives an answer away. The components of a force of
    unknown direction have lines too, which count where they cross another unknown's.
    """
    found: list[Spot] = []
    for body in sketch.bodies:
        forces = [force for force in acting_forces(sketch, body.id) if force.along is not None]
        lined = [force for force in forces if force.sought not in ("size and direction", "size and place")]
        whole = [part for force in lined for part in parts_of(force)]
        if len(whole) > MOST_LINES:
            continue
        symbols = {force.id: force.symbol for force in forces}
        split = [part for force in forces if force.sought == "size and direction" for part in parts_of(force)]
        unknown = [part for part in whole if part.unknown]
        pairs = [*combinations(whole, 2), *((part, other) for part in split for other in unknown)]
        pairs += [pair for pair in combinations(split, 2) if pair[0].force != pair[1].force]
        for first, second in pairs:
            assert first.along is not None and second.along is not None
            point = line_crossing(first.point, first.along, second.point, second.along)
            if point is not None and max(abs(point[0]), abs(point[1])) < 1e9:
                names = " and ".join(_called(part, symbols) for part in (first, second))
                found.append(Spot(tidy_point(point), f"lines of {names} cross"))
    return tuple(found)


def _called(part: Part, symbols: dict[str, str]) -> str:
    """The letter of a force as it is said; of a component with its axis: "R x"."""
    symbol = symbols[part.force]
    return f"{symbol} {part.which}" if part.which in ("x", "y") else symbol


def candidates(
    sketch: Sketch,
    context: Context,
    *,
    leave_out: str = "",
    origin: Point | None = None,
    lines: tuple[Line, ...] = (),
    crossings: bool = False,
    spots: bool = True,
) -> Candidates:
    """Everything a free point can catch on this sketch."""
    settings = sketch.settings
    return Candidates(
        points=named_spots(sketch, leave_out) if spots else (),
        crossings=crossing_spots(sketch) if crossings else (),
        origin=origin,
        lines=lines,
        step=round_step(context.step_m, settings),
        factor=factor_of("length", settings),
        unit=unit_of("length", settings),
    )


def snap_place(
    sketch: Sketch, body: Body, place: Point, context: Context, previous: Snapped | None, leave_out: str = ""
) -> tuple[Point, Snapped]:
    """A place on a body (its frame), caught by points on it, else at a round distance along a bar.

    The second part says what was caught, with the point in the world.
    """
    world = shape.world(body, place)
    if context.catch_m <= 0.0:
        return place, Snapped(world, "free")
    best: tuple[float, Point, Spot] | None = None
    for own, spot in _own_spots(sketch, body, leave_out):
        gap = ((own[0] - place[0]) ** 2 + (own[1] - place[1]) ** 2) ** 0.5
        held = previous is not None and previous.kind == "point" and previous.point == spot.point
        limit = context.release_m if held else context.catch_m
        if gap <= limit and (best is None or gap < best[0]):
            best = (gap, own, spot)
    if best is not None:
        return best[1], Snapped(best[2].point, "point", best[2].label, best[2].target)
    step = round_step(context.step_m, sketch.settings)
    if step <= 0.0:
        return place, Snapped(world, "free")
    factor = factor_of("length", sketch.settings)
    if body.kind == "bar":
        along = min(body.length_m, max(0.0, round_to(place[0], step, factor)))
        label = f"{write_exact(along, 'length', sketch.settings)} along"
        return (along, 0.0), Snapped(shape.world(body, (along, 0.0)), "round", label)
    on_rim = _on_a_rim(sketch, body, place, context)
    if on_rim is not None:
        return on_rim
    rounded = (round_to(place[0], step, factor), round_to(place[1], step, factor))
    if shape.nearest_place(body, shape.world(body, rounded)) == rounded:
        return rounded, Snapped(shape.world(body, rounded), "round")
    return place, Snapped(world, "free")


def _on_a_rim(sketch: Sketch, body: Body, place: Point, context: Context) -> tuple[Point, Snapped] | None:
    """The place on the rim of a disc or round hole near a place, at whole degrees; None where no rim is near.

    Degrees are those of the page, and multiples of fifteen are caught from as far as anything else.
    """
    circles = [*([shape.rim_of(body)] if body.kind == "disc" else []), *body.round_holes]
    for circle in circles:
        if abs(distance(place, circle.centre_m) - circle.radius_m) > context.catch_m:
            continue
        off = subtract(place, circle.centre_m)
        turned = angle_of(off) + body.angle_deg
        step = DIRECTION_STEP_DEG * round(turned / DIRECTION_STEP_DEG)
        far = abs(math.radians(turned - step)) * circle.radius_m
        angle = step if far <= context.catch_m else float(round(turned))
        at = add(circle.centre_m, scale(direction(angle - body.angle_deg), circle.radius_m))
        on_it = tidy_point(at)
        return on_it, Snapped(shape.world(body, on_it), "round", f"rim at {angle % 360.0:g}°")
    return None


def _own_spots(sketch: Sketch, body: Body, leave_out: str) -> list[tuple[Point, Spot]]:
    """Places on the body (its frame) worth catching, each with its spot in the world."""
    found: list[tuple[Point, Spot]] = []
    corners = shape.places(body)
    for index, corner in enumerate(corners):
        word = _corner_word(body, index, len(corners))
        found.append((corner, Spot(shape.world(body, corner), f"{word} of {body.name}", body.id)))
    if body.kind == "disc" and shape.nearest_place(body, body.origin_m) == (0.0, 0.0):
        found.append(((0.0, 0.0), Spot(body.origin_m, f"centre of {body.name}", body.id)))
    attached: tuple[Attached, ...] = (*sketch.supports, *sketch.points, *sketch.loads)
    for entity in attached:
        if entity.body == body.id and entity.id != leave_out:
            name = entity.name if hasattr(entity, "name") else entity.symbol
            found.append((entity.place_m, Spot(world_place(sketch, entity), name, entity.id)))
    for support in sketch.supports:
        if support.other == body.id and support.id != leave_out:
            at = meeting.place_on(sketch, support, body.id)
            found.append((place_on(body, at), Spot(at, support.symbol, support.id)))
    centre = shape.centre_place(body)
    if shape.nearest_place(body, shape.world(body, centre)) == centre or body.kind == "bar":
        word = sketch.settings.mass_centre_word
        place = (centre[0], 0.0) if body.kind == "bar" and centre[1] == 0.0 else centre
        if body.kind != "bar" or centre[1] == 0.0:
            found.append((place, Spot(shape.world(body, centre), f"{word} of {body.name}", body.id)))
    return found
