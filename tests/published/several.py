"""Published cases of several bodies: `bodies` instead of one, and what is `on` which, joined `with` which other."""

from __future__ import annotations

import math
from typing import Any

from steelyard.geometry import direction
from steelyard.kinetics.release import release
from steelyard.kinetics.released import Release
from steelyard.model import Body, Couple, Force, Load, Pivot, Settings, Sketch, SpreadLoad, Support, Thing
from steelyard.statics import analyse

Case = dict[str, Any]


def sketch_of(case: Case) -> Sketch:
    """The sketch of a case: bent bars, all drawn in the same frame, joined by its holds."""
    bodies = tuple(
        Body(
            body["id"], "bent-bar", body["id"], (0.0, 0.0), 0.0,
            points_m=tuple(tuple(point) for point in body["points_m"]), weight_n=body.get("weight_n"),
            mass_kg=body.get("mass_kg"),
        )
        for body in case["bodies"]
    )  # fmt: skip
    return Sketch(
        bodies=bodies,
        supports=tuple(_support(hold) for hold in case["holds"]),
        loads=tuple(_load(load, f"load{index}") for index, load in enumerate(case["loads"], 1)),
        pivot=Pivot((0.0, 0.0)),
        settings=Settings(g_m_s2=case.get("g_m_s2", 9.81)),
    )


def value(case: Case, expected: dict[str, Any]) -> float | None:
    """What the engine gives for one printed figure, in SI units; None where it gives no value."""
    sketch = sketch_of(case)
    of, quantity = expected["of"], expected["quantity"]
    if quantity.startswith("let go: "):
        return _let_go(release(sketch), of, quantity.removeprefix("let go: "))
    if of == "whole":
        whole = analyse(sketch).whole
        assert whole is not None
        ways = whole.equations - whole.rank
        return {
            "unknowns": whole.unknowns, "equations": whole.equations, "ways free": ways,
            "too many": whole.unknowns - whole.rank,
        }[quantity]  # fmt: skip
    on = next(hold["on"] for hold in case["holds"] if hold["id"] == of)
    reading = analyse(sketch, bodies=(on,)).reading(of)
    if quantity in "xy":
        return reading.components_n["xy".index(quantity)]
    if quantity == "couple":
        return reading.couple_n_m
    size = reading.size_n
    return -size if quantity == "pull" and size is not None and reading.against_drawn else size


def _let_go(found: Release, of: str, quantity: str) -> float | None:
    """How a body starts when all is let go together, or what a hold then does to the body it is on."""
    for body in found.bodies:
        if body.body == of:
            return {
                "alpha": body.alpha_rad_s2, "ax": body.acceleration_m_s2[0], "ay": body.acceleration_m_s2[1]
            }[quantity]  # fmt: skip
    vector = next(each.vector for body in found.bodies for each in body.held if each.force.id == of)
    if vector is None:
        return None
    return math.hypot(*vector) if quantity == "size" else vector["xy".index(quantity)]


def _load(load: dict[str, Any], load_id: str) -> Load:
    on = load["on"]
    if "w_n_per_m" in load:
        start, end = (tuple(load[key]) for key in ("from_m", "to_m"))
        first, last = load["w_n_per_m"]
        return SpreadLoad(load_id, on, start, end, "Q", start_n_per_m=first, end_n_per_m=last, acts="down")
    at = tuple(load["at_m"])
    if "couple_n_m" in load:
        size = load["couple_n_m"]
        return Couple(load_id, on, at, "C", couple_n_m=abs(size), counterclockwise=size > 0.0)
    if "mass_kg" in load:
        return Thing(load_id, on, at, "P", "load", load["mass_kg"])
    return Force(load_id, on, at, "F", size_n=load["size_n"], direction_deg=load["direction_deg"])


def _support(hold: dict[str, Any]) -> Support:
    at, name, kind = tuple(hold["at_m"]), hold["id"], hold["kind"]
    more: dict[str, Any] = {"other": hold.get("with")}
    if kind in ("rope", "strut"):
        more["anchor_m"] = tuple(hold["to_m"])
        more["over_m"] = tuple(hold["over_m"]) if "over_m" in hold else None
    elif kind in ("roller", "contact"):
        more |= {"normal_deg": hold["direction_deg"], "two_way": kind == "roller"}
        assert math.isclose(math.hypot(*direction(hold["direction_deg"])), 1.0)
    return Support(name, kind, hold["on"], at, name, **more)
