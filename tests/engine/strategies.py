"""Random sketches for property tests: sound documents with every kind of body, support and load.

Numbers are typed ones (a few decimals), so examples shrink to something one can draw.
"""

from __future__ import annotations

import math
from dataclasses import replace

from hypothesis import strategies as st
from steelyard.geometry import Point
from steelyard.model import (
    Body,
    Couple,
    Force,
    Guess,
    Load,
    NamedPoint,
    Pivot,
    RoundHole,
    Settings,
    Sketch,
    SpreadLoad,
    Support,
    Thing,
)


def hundredths(low: float, high: float) -> st.SearchStrategy[float]:
    """Numbers with two decimals."""
    return st.integers(round(low * 100), round(high * 100)).map(lambda count: count / 100)


ANGLES = st.one_of(st.sampled_from([float(angle) for angle in range(0, 360, 15)]), hundredths(0.0, 359.99))
PLACES = st.tuples(hundredths(-10, 10), hundredths(-10, 10))
SIZES_N = st.one_of(st.just(0.0), hundredths(0.01, 5000.0))
MASSES_KG = hundredths(0.0, 500.0)
COUPLES_N_M = hundredths(-2000.0, 2000.0)
SHARES = st.integers(0, 20).map(lambda count: count / 20)
GUESSES = st.one_of(st.none(), st.builds(Guess, size_n=SIZES_N, direction_deg=ANGLES, couple_n_m=COUPLES_N_M))

PLATES: tuple[tuple[Point, ...], ...] = (
    ((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0)),
    ((0.0, 0.0), (4.0, 0.0), (1.0, 3.0)),
    ((0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0)),
)
BENT: tuple[tuple[Point, ...], ...] = (
    ((0.0, 0.0), (2.0, 0.0), (2.0, 1.5)),
    ((0.0, 0.0), (1.0, 1.0), (3.0, 1.0), (4.0, -1.0)),
)


@st.composite
def bodies(draw: st.DrawFn, body_id: str = "bar1") -> Body:
    """A bar, bent bar, plate or disc anywhere on the paper, with a mass, a weight, a letter or none."""
    kind = draw(st.sampled_from(["bar", "bar", "bent-bar", "plate", "disc"]))
    body = Body(body_id, kind, draw(st.sampled_from(["plank", "boom"])), draw(PLACES), draw(ANGLES))
    if kind == "bar":
        body = replace(body, length_m=draw(hundredths(0.05, 12.0)))
    elif kind == "bent-bar":
        body = replace(body, points_m=draw(st.sampled_from(BENT)))
    elif kind == "disc":
        radius = draw(hundredths(0.05, 5.0))
        hole = RoundHole((0.4 * radius, 0.2 * radius), 0.3 * radius)
        body = replace(body, radius_m=radius, round_holes=draw(st.sampled_from([(), (hole,)])))
    else:
        body = replace(body, points_m=draw(st.sampled_from(PLATES)))
        body = replace(body, round_holes=draw(st.sampled_from([(), (RoundHole((2.0, 0.5), 0.3),)])))
        if draw(st.booleans()):
            body = replace(body, holes_m=(((0.4, 0.2), (0.9, 0.2), (0.9, 0.7), (0.4, 0.7)),))
    weighing = draw(st.sampled_from(["mass", "mass", "weight", "none", "letter"]))
    if weighing == "mass":
        body = replace(body, mass_kg=draw(MASSES_KG))
    elif weighing == "weight":
        body = replace(body, weight_n=draw(SIZES_N))
    elif weighing == "letter":
        body = replace(body, weight_symbol_only=True)
    return body


@st.composite
def places_on(draw: st.DrawFn, body: Body) -> Point:
    """A place on a body: along the axis of a bar, along the edge of a plate or disc, in the centre of a disc."""
    share = draw(SHARES)
    if body.kind == "disc":
        turn = math.tau * share
        rim = (body.radius_m * math.cos(turn), body.radius_m * math.sin(turn))
        return draw(st.sampled_from([(0.0, 0.0), rim, rim]))
    if body.kind == "bar":
        return (share * body.length_m, 0.0)
    corners = body.points_m
    index = draw(st.integers(0, len(corners) - 2))
    (ax, ay), (bx, by) = corners[index], corners[index + 1]
    return (ax + share * (bx - ax), ay + share * (by - ay))


@st.composite
def supports(draw: st.DrawFn, body: Body, support_id: str) -> Support:
    """Any support of a body."""
    kind = draw(st.sampled_from(["pin", "roller", "roller", "rope", "strut", "fixed", "contact"]))
    support = Support(
        support_id,
        kind,
        body.id,
        draw(places_on(body)),
        draw(st.sampled_from(["R", "T", "S"])),
        agent=draw(st.sampled_from(["", "quay", "winch"])),
        guess=draw(GUESSES),
    )
    if kind in ("rope", "strut"):
        support = replace(support, anchor_m=draw(PLACES))
    if kind in ("roller", "contact"):
        support = replace(support, normal_deg=draw(ANGLES))
    if kind == "roller":
        support = replace(support, two_way=draw(st.booleans()))
    if kind in ("pin", "fixed"):
        support = replace(support, drawn_deg=draw(st.sampled_from([None, 45.0, 135.0, 225.0, 315.0])))
    if kind == "fixed":
        support = replace(support, couple_guess=draw(GUESSES))
    return support


@st.composite
def pieces_of(draw: st.DrawFn, body: Body) -> tuple[Point, Point]:
    """Two places apart on one straight piece of a body."""
    corners = ((0.0, 0.0), (body.length_m, 0.0)) if body.kind == "bar" else body.points_m
    index = draw(st.integers(0, len(corners) - (1 if body.kind == "plate" else 2)))
    (x, y), (to_x, to_y) = corners[index], corners[(index + 1) % len(corners)]
    first, last = draw(st.sampled_from([(0.0, 1.0), (1.0, 0.0), (0.25, 0.5), (0.75, 0.0)]))
    start, end = ((x + part * (to_x - x), y + part * (to_y - y)) for part in (first, last))
    return start, end


@st.composite
def spread_loads(draw: st.DrawFn, body: Body, load_id: str, letter: bool = False) -> SpreadLoad:
    """A load along one piece of a body: uniform, a triangle either way, or a trapezium."""
    start, end = draw(pieces_of(body))
    sizes = draw(st.sampled_from([(1.0, 1.0), (0.0, 1.0), (1.0, 0.0), *([] if letter else [(0.4, 1.0)])]))
    most = draw(hundredths(0.0, 900.0)) * draw(st.sampled_from([1.0, 1.0, -1.0]))
    first, last = (None if letter and part == 1.0 else round(most * part, 4) + 0.0 for part in sizes)
    acts = draw(st.sampled_from(["across", "down", "angle", "weight"]))
    return SpreadLoad(load_id, body.id, start, end, "Q", "w", "other", "snow", first, last, acts, draw(ANGLES))


@st.composite
def loads(draw: st.DrawFn, body: Body, load_id: str, letters: bool = True) -> Load:
    """Any load of a body: arrow, couple or thing, known or unknown."""
    straight = [] if body.kind == "disc" else ["spread"]
    kind = draw(st.sampled_from(["force", "force", "unknown", "couple", "thing", *straight]))
    place = draw(places_on(body))
    symbol = draw(st.sampled_from(["F", "G", "P"]))
    letter = letters and draw(st.integers(0, 9)) == 0
    if kind == "force":
        size = None if letter else draw(SIZES_N)
        return Force(load_id, body.id, place, symbol, size_n=size, direction_deg=draw(ANGLES))
    if kind == "unknown":
        return Force(
            load_id,
            body.id,
            place,
            symbol,
            role="unknown",
            direction_deg=draw(ANGLES),
            sought=draw(st.sampled_from(["size", "size and direction"])),
            one_way=draw(st.booleans()),
            guess=draw(GUESSES),
        )
    if kind == "couple":
        role = draw(st.sampled_from(["known", "known", "unknown"]))
        value = draw(hundredths(0.0, 2000.0)) if role == "known" and not letter else None
        guess = draw(GUESSES) if role == "unknown" else None
        return Couple(
            load_id,
            body.id,
            place,
            symbol,
            role=role,
            couple_n_m=value,
            counterclockwise=draw(st.booleans()),
            guess=guess,
        )
    if kind == "spread":
        return draw(spread_loads(body, load_id, letter))
    return Thing(load_id, body.id, place, symbol, "crate", None if letter else draw(MASSES_KG))


@st.composite
def all_settings(draw: st.DrawFn, body: Body) -> Settings:
    """Settings with axes level or tilted, and every way of writing."""
    return Settings(
        g_m_s2=draw(st.sampled_from([9.81, 9.80665, 10.0])),
        axes_deg=draw(st.one_of(st.just(0.0), st.just(0.0), ANGLES)),
        axes_along=draw(st.sampled_from([None, None, body.id])),
        counterclockwise_positive=draw(st.booleans()),
        two_sided=draw(st.booleans()),
        torque_form=draw(st.sampled_from(["arm", "square", "components"])),
        units=draw(st.sampled_from(["si", "us"])),
    )


@st.composite
def sketches(
    draw: st.DrawFn, *, most_supports: int = 3, most_loads: int = 3, letters: bool = True, guesses: bool = True
) -> Sketch:
    """A sound sketch of one body with its supports, loads, a named point and a pivot."""
    body = draw(bodies())
    if not letters:
        body = replace(body, weight_symbol_only=False)
    held = tuple(draw(supports(body, f"support{index}")) for index in range(draw(st.integers(0, most_supports))))
    loaded = tuple(draw(loads(body, f"load{index}", letters)) for index in range(draw(st.integers(0, most_loads))))
    if not guesses:
        held = tuple(replace(support, guess=None, couple_guess=None) for support in held)
        loaded = tuple(load if isinstance(load, Thing | SpreadLoad) else replace(load, guess=None) for load in loaded)
    points = (NamedPoint("point-a", "A", draw(places_on(body)), body.id),) if draw(st.booleans()) else ()
    pivot = draw(st.one_of(st.none(), st.builds(Pivot, PLACES)))
    settings = draw(all_settings(body))
    return Sketch(bodies=(body,), points=points, supports=held, loads=loaded, pivot=pivot, settings=settings)


@st.composite
def holding_sketches(draw: st.DrawFn) -> Sketch:
    """A sketch whose supports are of the common sets of three unknowns, in numbers and without guesses."""
    sketch = draw(sketches(most_supports=0, letters=False, guesses=False))
    body = sketch.bodies[0]
    known = tuple(load for load in sketch.loads if isinstance(load, Thing | SpreadLoad) or load.role == "known")
    kinds = draw(st.sampled_from([("pin", "roller"), ("pin", "rope"), ("fixed",), ("rope", "strut", "roller")]))
    held = []
    for index, kind in enumerate(kinds):
        support = Support(f"support{index}", kind, body.id, draw(places_on(body)), "RST"[index])
        if kind in ("rope", "strut"):
            support = replace(support, anchor_m=draw(PLACES))
        elif kind == "roller":
            support = replace(support, normal_deg=draw(ANGLES), two_way=True)
        held.append(support)
    return replace(sketch, supports=tuple(held), loads=known)
