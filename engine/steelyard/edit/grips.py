"""What of each thing a hand can hold, where it is, and why some of it cannot move."""

from __future__ import annotations

import re

from ..geometry import Point, add, direction, scale
from ..model import Body, Couple, Force, NamedPoint, Sketch, SpreadLoad, Support, Thing
from ..statics import shape
from ..statics.holding import BACK, anchor
from ..statics.pivot import pivot_point, second_point
from . import circles, facing, pieces, spreading
from .change import Entity, fail, find, world_place
from .unknowns import part_of

PIVOT = "pivot"
SECOND_PIVOT = "second-pivot"
PIVOTS = (PIVOT, SECOND_PIVOT)
_CORNER = re.compile(r"^corner-(\d{1,3})$")
# The body of an attached thing, its place and the tail of its arrow are all its point of application.
PLACE_GRIPS = ("place", "tail", "body")


def names(sketch: Sketch, of: str) -> tuple[str, ...]:
    """The grips of a thing, the usual one first."""
    if of in PIVOTS:
        return (PIVOT,)
    entity = find(sketch, of)
    match entity:
        case Body() if of != entity.id:
            return ("centre", "head")
        case Body(kind="bar"):
            return ("body", "start", "end", *pieces.grips(entity), "centre")
        case Body(kind="disc"):
            return ("body", "rim", *circles.hole_grips(entity), *pieces.grips(entity), "centre")
        case Body():
            return (
                "body",
                *(f"corner-{index}" for index in range(len(entity.points_m))),
                *circles.hole_grips(entity),
                *pieces.grips(entity),
                "centre",
            )
        case Support() if of.endswith(BACK):
            return ("place",)
        case Support() if part_of(entity, of) == "friction":
            return ("place", "head", "guess")
        case Support() if of != entity.id:
            return ("place", "head")
        case Support(kind="rope", over_m=(_, _)):
            return ("place", "anchor", "pulley", "head", "guess", "slide")
        case Support(face_m=(_, _)):
            return ("place", *facing.ENDS, "normal", "head", "guess", "slide")
        case Support(kind="rope" | "strut"):
            return ("place", "anchor", "head", "guess", "slide")
        case Support(kind="roller" | "contact"):
            return ("place", "normal", "head", "guess", "slide")
        case Support():
            return ("place", "head", "guess", "slide")
        case Force():
            return ("tail", "head", "guess", "slide") if entity.role == "unknown" else ("tail", "head", "slide")
        case Thing():
            return ("place", "head")
        case SpreadLoad():
            return ("place", *spreading.ENDS, *spreading.HEIGHTS)
        case Couple():
            return ("place", "head", "guess") if entity.role == "unknown" else ("place", "head")
    return ("place",)


def locked(sketch: Sketch, of: str, grip: str) -> str:
    """Why this grip cannot move; "" when it can."""
    if of in PIVOTS:
        return ""
    entity = find(sketch, of)
    match entity:
        case Body() if grip == "head":
            return "A weight points down, and its size comes from the mass: type that in the line below."
        case Body() if grip == "centre" and entity.pieces:
            return "Its centre of mass follows from its pieces: move one of them instead."
        case Body() if grip == "slide":
            return "A weight acts at the centre of mass."
        case Support() if of.endswith(BACK):
            return "It is the partner of a force on another body: change that one."
        case Support(about_to="slip" | "slip-back") if grip in ("head", "guess") and of != entity.id:
            return "It is about to slip: friction is μ times the normal force, against the slip."
        case Support() if part_of(entity, of) == "friction" and grip == "slide":
            return "Friction acts where the surfaces touch: move the support instead."
        case Support() if part_of(entity, of) == "couple" and grip not in (*PLACE_GRIPS, "head"):
            return "A fixing couple acts on the whole body: pull its head to guess it."
        case Support() if grip == "slide":
            return "This force acts where the support holds the body: move the support instead."
        case Thing() if grip == "head":
            return "This push is as large as the thing is heavy: type its mass in the line below."
        case Thing() if grip == "slide":
            return "This push acts where the thing stands: move the thing instead."
        case SpreadLoad():
            return spreading.locked(entity, grip)
        case Couple(role="known", couple_n_m=None) if grip not in PLACE_GRIPS:
            return f"{entity.symbol} is known as a letter only: type a size in the line below."
    return ""


def corner_index(body: Body, grip: str) -> int | None:
    """Which corner a grip holds; None when it is not a corner of this body."""
    found = _CORNER.match(grip)
    if found is None or int(found.group(1)) >= len(body.points_m):
        return None
    return int(found.group(1))


def position(sketch: Sketch, of: str, grip: str, newtons_per_m: float, intensity_per_m: float = 1000.0) -> Point | None:
    """Where a grip is, in the world; None when the hand itself is where it is (a guess pulled out of a point)."""
    if of in PIVOTS:
        return pivot_place(sketch, of)
    entity = find(sketch, of)
    if isinstance(entity, Body):
        return _of_body(entity, grip)
    if grip in PLACE_GRIPS:
        return world_place(sketch, entity)
    if isinstance(entity, SpreadLoad) and grip in (*spreading.ENDS, *spreading.HEIGHTS):
        return spreading.grip_position(sketch, entity, grip, intensity_per_m)
    if isinstance(entity, Support) and entity.face_m is not None and grip in facing.ENDS:
        return facing.end_position(sketch, entity, grip)
    if isinstance(entity, Support) and grip == "anchor" and entity.anchor_m is not None:
        return anchor(sketch, entity)
    if isinstance(entity, Support) and grip == "pulley" and entity.over_m is not None:
        return entity.over_m
    if isinstance(entity, Force) and grip == "head" and entity.role == "known":
        return force_tip(sketch, entity, newtons_per_m)
    if isinstance(entity, Force) and grip == "slide":
        return world_place(sketch, entity)
    if grip == "normal" and isinstance(entity, Support) and entity.kind in ("roller", "contact"):
        return None
    if (turned := couple_value(entity, of)) is not None and grip in ("head", "guess"):
        place = world_place(sketch, entity)
        return (place[0] - turned / newtons_per_m, place[1])
    unknown = isinstance(entity, Support) or (isinstance(entity, Force | Couple) and entity.role == "unknown")
    if unknown and grip in ("head", "guess"):
        return None
    _unknown(entity, grip)
    return None


def couple_value(entity: Entity, of: str) -> float | None:
    """What the head of a turning arrow stands for (N m, counterclockwise positive): a known couple, or the guess.

    None for what is no couple; nothing guessed yet, or a letter only, is 0.
    """
    if isinstance(entity, Couple):
        if entity.role == "unknown":
            return 0.0 if entity.guess is None else entity.guess.couple_n_m
        size = abs(entity.couple_n_m or 0.0)
        return size if entity.counterclockwise else -size
    if isinstance(entity, Support) and part_of(entity, of) == "couple":
        return 0.0 if entity.couple_guess is None else entity.couple_guess.couple_n_m
    return None


def _of_body(body: Body, grip: str) -> Point:
    if grip in ("body", "start"):
        return body.origin_m
    if grip == "end" and body.kind == "bar":
        return shape.ends(body)[1]
    if grip in ("centre", "tail", "place"):
        return shape.centre_of_mass(body)
    piece = pieces.piece_of(body, grip)
    if piece is not None:
        return shape.world(body, body.pieces[piece].centre_m)
    circle = circles.grip_position(body, grip)
    if circle is not None:
        return circle
    index = corner_index(body, grip)
    if index is None:
        _unknown(body, grip)
    return shape.world(body, body.points_m[index or 0])


def pivot_place(sketch: Sketch, of: str) -> Point:
    """Where the pivot or the second pivot is; raises `SteelyardError` when there is no second one."""
    place = pivot_point(sketch) if of == PIVOT else second_point(sketch)
    if place is None:
        fail("pivot", of, f"There is no second {sketch.settings.pivot_word} yet.", "Pin one first.")
    return place


def force_tip(sketch: Sketch, force: Force, newtons_per_m: float) -> Point:
    """The free end of a force's arrow: the head, or the far end of a push drawn with its head at the point."""
    place = world_place(sketch, force)
    reach = arrow_length_m(force.size_n, newtons_per_m) * (-1.0 if force.head_at_point else 1.0)
    return add(place, scale(direction(force.direction_deg), reach))


def arrow_length_m(size_n: float | None, newtons_per_m: float) -> float:
    """How long an arrow is on the paper; a letter has a length of its own, one metre of a thousand newtons."""
    return 1.0 if size_n is None else size_n / newtons_per_m


def _unknown(entity: Entity | NamedPoint, grip: str) -> None:
    fail("grip", entity.id, f'There is no grip called "{grip[:20]}" here.', "Take hold of another one.")
