"""Sketches of several bodies for the written working, small enough to check by hand. All our own, round numbers."""

from __future__ import annotations

import math
from dataclasses import replace

from steelyard.model import Body, Force, NamedPoint, Settings, Sketch, SpreadLoad, Support, Thing

_LEG = math.hypot(2.0, 3.0)
_STEEP = math.degrees(math.atan2(3.0, 2.0))


def down(
    body: str, place: tuple[float, float], size: float | None, symbol: str = "P", direction: float = 270.0
) -> Force:
    return Force(f"load-{symbol.lower()}", body, place, symbol, agent="hook", size_n=size, direction_deg=direction)


def pin(name: str, body: str, place: tuple[float, float], symbol: str, **more: object) -> Support:
    return Support(name, "pin", body, place, symbol, **{"agent": "" if more.get("other") else "quay", **more})  # type: ignore[arg-type]


def trestle(*supports: Support, load: float | None = 600.0, **more: object) -> Sketch:
    """Two legs pinned at the top; what joins them lower down and what they stand on is given."""
    legs = (
        Body("left", "bar", "left leg", (-2.0, 0.0), _STEEP, length_m=_LEG, mass_kg=20.0),
        Body("right", "bar", "right leg", (2.0, 0.0), 180.0 - _STEEP, length_m=_LEG, mass_kg=20.0),
    )
    held = (pin("crown", "left", (_LEG, 0.0), "C", other="right"), *supports)
    loads = (down("left", (_LEG / 2.0, 0.0), load), Thing("can", "right", (_LEG * 0.75, 0.0), "K", "paint can", 12.0))
    return Sketch(bodies=legs, supports=held, loads=loads, **more)  # type: ignore[arg-type]


def stand(name: str, body: str, symbol: str, **more: object) -> Support:
    return replace(Support(name, "contact", body, (0.0, 0.0), symbol, agent="deck"), **more)  # type: ignore[arg-type]


def arch(drop: float = 0.0, load: float | None = 600.0, **more: object) -> Sketch:
    """A three-hinged arch; its right hinge may stand higher."""
    left = Body("left", "bent-bar", "left half", (0.0, 0.0), 0.0, points_m=((0.0, 0.0), (0.0, 3.0), (4.0, 3.0)))
    right = Body(
        "right",
        "bent-bar",
        "right half",
        (8.0, drop),
        0.0,
        points_m=((0.0, 0.0), (0.0, 3.0 - drop), (-4.0, 3.0 - drop)),
    )
    held = (
        pin("near", "left", (0.0, 0.0), "A"), pin("far", "right", (0.0, 0.0), "B"),
        pin("crown", "left", (4.0, 3.0), "C", other="right"),
    )  # fmt: skip
    loads = (down("left", (2.0, 3.0), load), down("right", (0.0, 1.5), 100.0, "H", 180.0))
    return Sketch(bodies=(left, right), supports=held, loads=loads, **more)  # type: ignore[arg-type]


def bracket(**more: object) -> Sketch:
    """A beam on a hinge and on a light strut that is pinned at both ends."""
    beam = Body("beam", "bar", "beam", (0.0, 0.0), 0.0, length_m=4.0, mass_kg=30.0)
    strut = Body("strut", "bar", "strut", (0.0, -3.0), 45.0, length_m=math.hypot(3.0, 3.0))
    held = (
        pin("wall", "beam", (0.0, 0.0), "A"), pin("shoe", "strut", (0.0, 0.0), "D"),
        pin("knee", "beam", (3.0, 0.0), "B", other="strut"),
    )  # fmt: skip
    return Sketch(bodies=(beam, strut), supports=held, loads=(down("beam", (4.0, 0.0), 600.0),), **more)  # type: ignore[arg-type]


def stage() -> Sketch:
    """Three beams in a row: the first built in, the others hung on it by pins, each on a roller."""
    beams = tuple(
        Body(name, "bar", f"{name} beam", (4.0 * index, 0.0), 0.0, length_m=4.0, mass_kg=10.0 * (index + 1))
        for index, name in enumerate(("first", "middle", "last"))
    )
    held = (
        Support("wall", "fixed", "first", (0.0, 0.0), "R", agent="wall"),
        pin("one", "first", (4.0, 0.0), "B", other="middle"),
        Support("post", "roller", "middle", (3.0, 0.0), "D", agent="post"),
        pin("two", "middle", (4.0, 0.0), "E", other="last"),
        Support("end", "roller", "last", (4.0, 0.0), "G", agent="trestle"),
    )
    loads = (
        SpreadLoad("snow", "last", (0.0, 0.0), (2.0, 0.0), "Q", "w", "other", "snow", 150.0, 150.0),
        down("middle", (1.0, 0.0), 400.0),
    )
    return Sketch(bodies=beams, supports=held, loads=loads)


def hoist(pull: float | None = 300.0) -> Sketch:
    """A lever and a platform hung from one rope over a fixed pulley."""
    lever = Body("lever", "bar", "lever", (0.0, 0.0), 0.0, length_m=3.0)
    tray = Body("tray", "bar", "tray", (4.0, -1.0), 0.0, length_m=2.0, mass_kg=40.0)
    held = (
        pin("post", "lever", (0.0, 0.0), "A"),
        Support(
            "rope", "rope", "lever", (2.0, 0.0), "T", agent="rope", anchor_m=(1.0, 0.0), other="tray", over_m=(5.0, 2.0)
        ),
        pin("hinge", "tray", (0.0, 0.0), "B"),
        Support("sill", "contact", "tray", (2.0, 0.0), "N", agent="sill"),
    )  # fmt: skip
    return Sketch(bodies=(lever, tray), supports=held, loads=(down("lever", (3.0, 0.0), pull),))


def stack(**more: object) -> Sketch:
    """A crate that stands with its face on a plank on a pin and a roller."""
    plank = Body("plank", "bar", "plank", (0.0, 0.0), 0.0, length_m=6.0, mass_kg=30.0)
    crate = Body(
        "crate",
        "plate",
        "crate",
        (2.0, 0.0),
        0.0,
        points_m=((0.0, 0.0), (1.0, 0.0), (1.0, 2.0), (0.0, 2.0)),
        mass_kg=50.0,
    )
    held = (
        pin("hinge", "plank", (0.0, 0.0), "R"),
        Support("post", "roller", "plank", (6.0, 0.0), "D", agent="post"),
        replace(
            Support("base", "contact", "crate", (0.0, 0.0), "N", mu=0.5, face_m=(1.0, 0.0), other="plank"), **more
        ),  # type: ignore[arg-type]
    )  # fmt: skip
    loads = (down("crate", (0.0, 1.0), 120.0, "H", 0.0),)
    return Sketch(bodies=(plank, crate), supports=held, loads=loads)


def leaning() -> Sketch:
    """A ladder against a box that stands on a rough deck."""
    ladder = Body("ladder", "bar", "ladder", (0.0, 0.0), 60.0, length_m=3.0, mass_kg=15.0)
    top = (3.0 * math.cos(math.radians(60.0)), 3.0 * math.sin(math.radians(60.0)))
    box = Body(
        "box",
        "plate",
        "box",
        (top[0], 0.0),
        0.0,
        points_m=((0.0, 0.0), (1.0, 0.0), (1.0, 3.0), (0.0, 3.0)),
        mass_kg=80.0,
    )
    held = (
        Support("foot", "contact", "ladder", (0.0, 0.0), "A", agent="deck", mu=0.6),
        Support("top", "contact", "ladder", (3.0, 0.0), "F", normal_deg=180.0, other="box"),
        Support(
            "base", "contact", "box", (0.0, 0.0), "N", agent="deck", mu=0.4, face_m=(1.0, 0.0), friction_symbol="h"
        ),
    )
    return Sketch(bodies=(ladder, box), supports=held, loads=(Thing("mate", "ladder", (2.0, 0.0), "P", "mate", 70.0),))


def _shoved() -> Sketch:
    """The same, with a slanting push that would just drive the box back against the ladder."""
    made = leaning()
    held = tuple(replace(each, about_to="slip-back", mu=0.3) if each.id == "base" else each for each in made.supports)
    shove = Force("shove", "box", (1.0, 1.0), "H", agent="hand", role="unknown", direction_deg=200.0)
    return replace(made, supports=held, loads=(*made.loads, shove))


_TIE = Support("tie", "rope", "left", (_LEG / 3.0, 0.0), "T", agent="tie", anchor_m=(_LEG / 3.0, 0.0), other="right")


def _tied_by_a_bar() -> Sketch:
    made = trestle(
        pin("p", "left", (_LEG / 3.0, 0.0), "D", other="tie"), pin("q", "right", (_LEG / 3.0, 0.0), "E", other="tie"),
        stand("a", "left", "A"), stand("b", "right", "B"),
    )  # fmt: skip
    at = 2.0 - 2.0 / 3.0
    return replace(made, bodies=(*made.bodies, Body("tie", "bar", "tie bar", (-at, 1.0), 0.0, length_m=2.0 * at)))


def _crossed() -> Sketch:
    """Two beams side by side on hinges, held to each other by two crossing bars: no sum separates what they carry."""
    lower = Body("lower", "bar", "lower beam", (0.0, 0.0), 0.0, length_m=4.0, mass_kg=20.0)
    upper = Body("upper", "bar", "upper beam", (0.0, 2.0), 0.0, length_m=4.0, mass_kg=20.0)
    held = (
        pin("low", "lower", (0.0, 0.0), "A"), pin("high", "upper", (4.0, 0.0), "B"),
        Support("up", "strut", "lower", (1.0, 0.0), "S", anchor_m=(3.0, 0.0), other="upper"),
        Support("cross", "strut", "lower", (3.0, 0.0), "U", anchor_m=(1.5, 0.0), other="upper"),
    )  # fmt: skip
    return Sketch(bodies=(lower, upper), supports=held, loads=(down("lower", (4.0, 0.0), 300.0),))


def _ring() -> Sketch:
    """Three bars on hinges, each tied to the other two: what the ties carry no sum tells one by one."""
    places = {"one": (0.0, 0.0), "two": (4.0, 0.0), "three": (2.0, 5.0)}
    angles = {"one": 90.0, "two": 100.0, "three": 200.0}
    bars = tuple(
        Body(name, "bar", f"bar {name}", at, angles[name], length_m=2.0, mass_kg=10.0) for name, at in places.items()
    )
    ties = tuple(
        Support(f"tie{index}", "strut", first, (2.0, 0.0), symbol, anchor_m=(reach, 0.0), other=second)
        for index, (first, second, symbol, reach) in enumerate(
            (("one", "two", "S", 1.0), ("two", "three", "U", 1.5), ("three", "one", "V", 1.5))
        )
    )
    pins = tuple(pin(f"pin{index}", name, (0.0, 0.0), "ABC"[index]) for index, name in enumerate(places))
    return Sketch(bodies=bars, supports=(*pins, *ties), loads=(down("one", (2.0, 0.0), 200.0, "P", 0.0),))


JOINED: dict[str, Sketch] = {
    "three-hinged arch": arch(),
    "three-hinged arch, one hinge higher": arch(1.0),
    "three-hinged arch, in letters": arch(0.0, None),
    "three-hinged arch, axes turned": arch(0.0, settings=Settings(axes_deg=20.0)),
    "three-hinged arch, named points": arch(
        points=(NamedPoint("pa", "A", (0.0, 0.0), "left"), NamedPoint("pc", "C", (4.0, 3.0), "left"))
    ),
    "trestle with a rope, on a smooth deck": trestle(_TIE, stand("a", "left", "A"), stand("b", "right", "B")),
    "trestle with a rope, hinged foot": trestle(_TIE, pin("a", "left", (0.0, 0.0), "A"), stand("b", "right", "B")),
    "trestle with a tie bar": _tied_by_a_bar(),
    "trestle on rough feet": trestle(
        stand("a", "left", "A", mu=0.9), stand("b", "right", "B", mu=0.9, friction_symbol="h")
    ),
    "trestle that spreads": trestle(
        stand("a", "left", "A", mu=0.2), stand("b", "right", "B", mu=0.2, friction_symbol="h")
    ),
    "trestle with a rope, on rough feet": trestle(
        _TIE, stand("a", "left", "A", mu=0.4), stand("b", "right", "B", mu=0.4, friction_symbol="h")
    ),
    "trestle with nothing to hold it": trestle(stand("a", "left", "A"), stand("b", "right", "B")),
    "trestle, two-sided, coordinates": trestle(
        _TIE, pin("a", "left", (0.0, 0.0), "A"), stand("b", "right", "B"),
        settings=Settings(two_sided=True, torque_form="components", counterclockwise_positive=False),
    ),
    "trestle in feet and pounds": trestle(
        _TIE, pin("a", "left", (0.0, 0.0), "A"), stand("b", "right", "B"), settings=Settings(units="us")
    ),
    "trestle, tied and hinged at both feet": trestle(
        _TIE, pin("a", "left", (0.0, 0.0), "A"), pin("b", "right", (0.0, 0.0), "B")
    ),
    "bracket with a strut": bracket(),
    "three beams in a row": stage(),
    "lever and tray on one rope over a pulley": hoist(),
    "lever and tray, load in letters": hoist(None),
    "crate on a plank": stack(),
    "crate on a plank, about to tip": stack(about_to="tip"),
    "ladder against a box": leaning(),
    "two beams and crossing bars": _crossed(),
    "three bars tied in a ring": _ring(),
    "crate on a plank, about to slip": replace(
        stack(about_to="slip"),
        loads=(Force("load-h", "crate", (0.0, 1.0), "H", agent="hook", role="unknown", direction_deg=0.0),),
    ),
    "crate on a plank, not about to slip": stack(about_to="slip"),
    "ladder against a box that is about to slide, pushed": _shoved(),
}  # fmt: skip
