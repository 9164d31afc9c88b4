"""The published cases: read from the files here, made into sketches, and answered by the engine.

`seen` in a case: "read" in the source named, from "memory" of it, or an "identity" that needs no source.
`printed`: numbers as printed, our numbers put into a printed formula, or a printed classification. `worked` is our own
arithmetic by hand. Tolerances follow from the digits printed; `unit_si` is the size of the printed unit in SI. With
`vary`, the figure is the one value of a number, between two ends, at which the change named happens.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import several
from steelyard.geometry import angle_of, direction
from steelyard.kinetics.inertia import inertia
from steelyard.kinetics.release import release
from steelyard.kinetics.released import Release
from steelyard.limits.thresholds import limits
from steelyard.model import (
    AddedPiece,
    Body,
    Couple,
    Force,
    Load,
    Pivot,
    RoundHole,
    Settings,
    Sketch,
    SpreadLoad,
    Support,
    Thing,
)
from steelyard.statics import analyse, shape
from steelyard.statics.reading import Analysis
from steelyard.statics.use import uses

Case = dict[str, Any]

# What is printed of the instant a body is let go is named so: "let go: alpha".
LET_GO = "let go: "

HERE = Path(__file__).parent
FILES = ("cases.json", "handbook.json", "spread.json", "friction.json", "release.json", "discs.json", "frames.json")
CASES: list[Case] = [case for name in FILES for case in json.loads((HERE / name).read_text(encoding="utf-8"))]


def source_of(case: Case) -> str:
    """Where a case comes from, as it may be cited."""
    said = {"read": "", "memory": "from memory of ", "identity": ""}[case["seen"]]
    return f"{said}{case['source']}"


def name_of(case: Case) -> str:
    """What a failure is headed with."""
    return f"{case['id']}: {case['what']} ({source_of(case)})"


def is_let_go(case: Case) -> bool:
    """Whether its figures are of a body let go, which need not be in balance."""
    return any(expected["quantity"].startswith(LET_GO) for expected in case["expected"])


def sketch_of(case: Case) -> Sketch:
    """The sketch of a case: one body, a bent bar unless it is a plate or disc; or several that are joined."""
    if "bodies" in case:
        return several.sketch_of(case)
    points = tuple(tuple(point) for point in case.get("points_m", []))
    holes = tuple(tuple(tuple(corner) for corner in hole) for hole in case.get("holes_m", []))
    round_holes = tuple(RoundHole(tuple(hole["centre_m"]), hole["radius_m"]) for hole in case.get("round_holes", []))
    pieces = tuple(AddedPiece(**{**piece, "centre_m": tuple(piece["centre_m"])}) for piece in case.get("pieces", []))
    kind = {"plate": "plate", "disc": "disc"}.get(case["body"], "bent-bar")
    body = Body(
        "body", kind, "body", (0.0, 0.0), 0.0, radius_m=case.get("radius_m", 0.0), points_m=points, holes_m=holes,
        round_holes=round_holes, pieces=pieces, mass_kg=case.get("mass_kg"), weight_n=case.get("weight_n"),
    )  # fmt: skip
    loads = [_load(load, f"load{index}") for index, load in enumerate(case["loads"], 1)]
    supports = []
    for hold in case["holds"]:
        held = _support(hold)
        (supports if isinstance(held, Support) else loads).append(held)
    return Sketch(
        bodies=(body,),
        supports=tuple(supports),
        loads=tuple(loads),
        pivot=Pivot((0.0, 0.0)),
        settings=Settings(g_m_s2=case.get("g_m_s2", 9.81), seen_from=case.get("seen_from", "side")),
    )


def computed(case: Case, expected: dict[str, Any]) -> float | None:
    """What the engine gives for one printed figure, in the printed unit; None where it gives no value."""
    if "bodies" in case:
        found = several.value(case, expected)
        return None if found is None else found / expected["unit_si"]
    sketch = sketch_of(case)
    if "vary" in case:
        vary = case["vary"]
        found = limits(sketch, vary["path"], vary["from"], vary["to"])
        places = [change.value for change in found.changes if change.kind == expected["quantity"]]
        return places[0] / expected["unit_si"] if len(places) == 1 else None
    if expected["quantity"].startswith(LET_GO):
        value = _let_go(release(sketch), expected["of"], expected["quantity"].removeprefix(LET_GO))
    else:
        value = _value(case, sketch, analyse(sketch), expected)
    return None if value is None else value / expected["unit_si"]


def _load(load: dict[str, Any], load_id: str) -> Load:
    if "w_n_per_m" in load:
        start, end = (tuple(load[key]) for key in ("from_m", "to_m"))
        first, last = load["w_n_per_m"]
        acts = {"acts": "angle", "direction_deg": load["direction_deg"]}
        return SpreadLoad(load_id, "body", start, end, "Q", start_n_per_m=first, end_n_per_m=last, **acts)
    at = tuple(load["at_m"])
    if "couple_n_m" in load:
        value = load["couple_n_m"]
        return Couple(load_id, "body", at, "C", couple_n_m=abs(value), counterclockwise=value > 0.0)
    if "mass_kg" in load:
        return Thing(load_id, "body", at, "P", "load", load["mass_kg"])
    return Force(load_id, "body", at, "F", size_n=load["size_n"], direction_deg=load["direction_deg"])


def _support(hold: dict[str, Any]) -> Support | Force:
    at, name, kind = tuple(hold["at_m"]), hold["id"], hold["kind"]
    if kind == "roller":
        return Support(name, "roller", "body", at, name, normal_deg=hold["direction_deg"], two_way=True)
    if kind == "rope":
        along = direction(hold["direction_deg"])
        return Support(name, "rope", "body", at, name, anchor_m=(at[0] + along[0], at[1] + along[1]))
    if kind == "strut":
        return Support(name, "strut", "body", at, name, anchor_m=tuple(hold["anchor_m"]))
    if kind == "contact":
        more = {"face_m": tuple(hold["face_m"])} if "face_m" in hold else {}
        more |= {key: hold[key] for key in ("mu", "about_to") if key in hold}
        return Support(name, kind, "body", at, name, normal_deg=hold["direction_deg"], **more)
    if kind == "contact up":
        return Support(name, "contact", "body", at, name, normal_deg=90.0)
    if kind == "unknown size":
        return Force(name, "body", at, name, role="unknown", direction_deg=hold["direction_deg"])
    if kind == "contact force":  # normal and friction together: the whole force of a rough contact
        return Force(name, "body", at, name, type="contact", role="unknown", sought="size and direction")
    return Support(name, kind, "body", at, name)


def _let_go(found: Release, of: str, quantity: str) -> float | None:
    """What happens at the instant a body is let go: its accelerations, or what a support then does."""
    if of == "body":
        ax, ay = found.acceleration_m_s2
        return {"alpha": found.alpha_rad_s2, "ax": ax, "ay": ay, "a": math.hypot(ax, ay)}[quantity]
    vector = next(each.vector for each in found.held if each.force.id == of)
    if vector is None:
        return None
    return math.hypot(*vector) if quantity == "size" else vector["xy".index(quantity)]


def _value(case: Case, sketch: Sketch, analysis: Analysis, expected: dict[str, Any]) -> float | None:
    of, quantity = expected["of"], expected["quantity"]
    if of == "mass":
        own = inertia(sketch.bodies[0], sketch.settings.g_m_s2)
        assert own is not None
        return {"inertia": own.moment_kg_m2, "inertia about O": own.about((0.0, 0.0))}[quantity]
    if of == "centre":
        return shape.centre_of_mass(sketch.bodies[0])["xy".index(quantity)]
    if of == "supports":
        count = sum({"pin": 2, "fixed": 3}.get(hold["kind"], 1) for hold in case["holds"])
        free = analysis.supports.degree if analysis.supports.kind == "mechanism" else 0
        return free if quantity == "ways free" else count - (3 - free)
    if of == "sum":
        total = analysis.applied
        assert total is not None
        return {
            "x": total.fx_n,
            "y": total.fy_n,
            "torque": total.torque_n_m,
            "size": math.hypot(total.fx_n, total.fy_n),
            "direction": angle_of((total.fx_n, total.fy_n)),
        }[quantity]
    if quantity in ("ratio", "use"):  # friction over its normal, and that over μ
        used = next(each for each in uses(sketch) if each.force == of)
        return used.most_used if quantity == "use" else abs(used.greatest)
    reading = analysis.reading(of)
    if quantity in ("at x", "at y"):  # where a line of action meets the body
        return reading.force.point["xy".index(quantity[-1])]
    if quantity in "xy":
        return reading.components_n["xy".index(quantity)]
    if quantity == "slope":  # angle to the level, whichever way the force points
        assert reading.vector is not None
        return math.degrees(math.atan2(abs(reading.vector[1]), abs(reading.vector[0])))
    return {
        "size": reading.size_n,
        "direction": reading.direction_deg,
        "couple": reading.couple_n_m,
        "arm": reading.turning.arm_m,
    }[quantity]
