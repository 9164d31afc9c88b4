"""Sketches with rough contacts, faces and impending motion, small enough to check by hand. All our own."""

from __future__ import annotations

from dataclasses import replace

from steelyard.model import Body, Couple, Force, NamedPoint, Settings, Sketch, Support, Thing

_LADDER = Body("ladder", "bar", "ladder", (0.0, 0.0), 60.0, length_m=6.0, mass_kg=18.0)
_CRATE = Body(
    "crate", "plate", "crate", (0.0, 0.0), 0.0, points_m=((0.0, 0.0), (1.0, 0.0), (1.0, 2.0), (0.0, 2.0)), mass_kg=50.0
)
_SLED = Body("crate", "bar", "sled", (0.0, 0.0), 20.0, length_m=2.0, mass_kg=50.0)
_LETTER_SLED = replace(_SLED, mass_kg=None, weight_symbol_only=True)
_PLANK = Body("plank", "bar", "plank", (0.0, 0.0), 0.0, length_m=6.0, mass_kg=30.0)
_PAINTER = Thing("painter", "ladder", (4.0, 0.0), "P", "painter", 70.0)


def foot(**more: object) -> Support:
    return replace(Support("foot", "contact", "ladder", (0.0, 0.0), "N", agent="quay", mu=0.4), **more)  # type: ignore[arg-type]


def top(**more: object) -> Support:
    return replace(
        Support("top", "contact", "ladder", (6.0, 0.0), "F", agent="hull", normal_deg=180.0, friction_symbol="h"),
        **more,
    )  # type: ignore[arg-type]


def face(**more: object) -> Support:
    return replace(
        Support("face", "contact", "crate", (0.0, 0.0), "N", agent="deck", mu=0.5, face_m=(1.0, 0.0)), **more
    )  # type: ignore[arg-type]


def push(height: float, size: float | None, direction: float = 0.0, **more: object) -> Force:
    return replace(
        Force("push", "crate", (0.0, height), "H", agent="hand", size_n=size, direction_deg=direction), **more
    )  # type: ignore[arg-type]


def ladder(*supports: Support, loads: tuple[Force, ...] = (), **more: object) -> Sketch:
    return Sketch(bodies=(_LADDER,), supports=supports, loads=(_PAINTER, *loads), **more)  # type: ignore[arg-type]


def crate(support: Support, *loads: Force | Couple, body: Body = _CRATE, **more: object) -> Sketch:
    return Sketch(bodies=(body,), supports=(support,), loads=loads, **more)  # type: ignore[arg-type]


_RUNNER = face(place_m=(0.5, 0.0), face_m=(1.5, 0.0), normal_deg=110.0)
_UNKNOWN = Force("push", "crate", (1.0, 0.0), "H", agent="hand", role="unknown", direction_deg=0.0)
_LEVEL_PUSH = Force("rope", "ladder", (0.0, 0.0), "H", agent="hand", role="unknown", direction_deg=180.0)

ROUGH: dict[str, Sketch] = {
    # At rest: friction is found by the sums and compared with what is there.
    "ladder that holds": ladder(foot(), top()),
    "ladder that slips": ladder(foot(mu=0.1), top()),
    "ladder, friction drawn the other way": ladder(foot(drawn_deg=180.0), top()),
    "ladder, nothing there to hold it": ladder(foot(mu=0.0), top()),
    "ladder in letters": Sketch(
        bodies=(replace(_LADDER, mass_kg=None, weight_symbol_only=True),), supports=(foot(), top()),
    ),
    "ladder, rough at both ends": ladder(foot(), top(mu=0.3)),
    "crate on its face": crate(face(), push(1.0, 100.0)),
    "crate on its face, level axes turned": crate(face(), push(1.0, 100.0), settings=Settings(axes_deg=30.0)),
    "crate on its face, two-sided, named ends": crate(
        face(), push(1.0, 100.0), settings=Settings(two_sided=True, torque_form="components"),
        points=(NamedPoint("a", "A", (0.0, 0.0), "crate"), NamedPoint("b", "B", (1.0, 0.0), "crate")),
    ),
    "crate that tips": crate(face(), push(2.0, 200.0)),
    "crate that tips the other way": crate(face(), push(2.0, 200.0, 180.0)),
    "crate just at its edge": crate(face(), push(2.0, 122.625)),
    "crate with as much friction as there is": crate(face(mu=0.2), push(0.5, 98.1)),
    "crate turned by a couple": crate(
        face(mu=None), Couple("turn", "crate", (0.5, 1.0), "Q", agent="crank", couple_n_m=150.0)
    ),
    "crate just lifted": crate(face(), push(1.0, 490.5, 90.0, place_m=(0.5, 2.0))),
    "crate pulled off its face": crate(face(), push(1.0, 600.0, 90.0, place_m=(0.5, 2.0))),
    "sled on a slope": crate(_RUNNER, body=_SLED),
    "sled on a slope, axes along it": crate(_RUNNER, body=_SLED, settings=Settings(axes_along="crate")),
    "sled on a slope, in letters": crate(_RUNNER, body=_LETTER_SLED, settings=Settings(axes_along="crate")),
    "sled on a slope, in feet and pounds": crate(_RUNNER, body=_SLED, settings=Settings(units="us")),
    # About to move: only now is friction μN.
    "ladder about to slide, pulled": ladder(foot(about_to="slip"), top(), loads=(_LEVEL_PUSH,)),
    "ladder about to slide back, pulled": ladder(foot(about_to="slip-back"), top(), loads=(_LEVEL_PUSH,)),
    "ladder not about to slide": ladder(foot(about_to="slip-back"), top()),
    "ladder not about to slide that way": ladder(foot(about_to="slip"), top()),
    "ladder about to slide at both ends": ladder(
        foot(about_to="slip"), top(mu=0.3, about_to="slip"), loads=(_LEVEL_PUSH,)
    ),
    "ladder, rough wall, about to slide below": ladder(foot(about_to="slip"), top(mu=0.3)),
    "sled about to slide down, pushed level": crate(replace(_RUNNER, about_to="slip-back"), _UNKNOWN, body=_SLED),
    "sled about to slide up, pushed level": crate(replace(_RUNNER, about_to="slip"), _UNKNOWN, body=_SLED),
    "sled about to slide up, in letters": crate(replace(_RUNNER, about_to="slip"), _UNKNOWN, body=_LETTER_SLED),
    "sled about to slide up, pushed along": crate(
        replace(_RUNNER, about_to="slip"), replace(_UNKNOWN, direction_deg=20.0), body=_SLED
    ),
    "crate about to tip": crate(face(about_to="tip"), push(1.5, None, role="unknown")),
    "crate about to tip back": crate(face(about_to="tip-back"), push(1.5, None, role="unknown")),
    "crate about to slip and pushed low": crate(face(about_to="slip"), push(0.25, None, role="unknown")),
    "plank with a rope about to go slack": Sketch(
        bodies=(_PLANK,),
        supports=(
            Support("hinge", "pin", "plank", (0.0, 0.0), "R", agent="hinge"),
            Support("rope", "rope", "plank", (5.0, 0.0), "T", agent="winch", anchor_m=(1.0, 3.0), about_to="slack"),
        ),
        loads=(Force("push", "plank", (6.0, 0.0), "H", agent="hand", role="unknown", direction_deg=90.0),),
    ),
    "plank about to lift off a trestle": Sketch(
        bodies=(_PLANK,),
        supports=(
            Support("near", "contact", "plank", (0.5, 0.0), "A", agent="trestle", mu=0.5, about_to="lift"),
            Support("far", "contact", "plank", (4.0, 0.0), "B", agent="trestle", mu=0.5, friction_symbol="h"),
        ),
        loads=(Force("push", "plank", (6.0, 0.0), "H", agent="hand", role="unknown", direction_deg=270.0),),
    ),
}  # fmt: skip
