"""Figures printed outside this project, each with its source in `cases.json`, against the engine's answers.

`seen` in a case: "read" in the source named, from "memory" of it, or an "identity" that needs no source.
`printed`: numbers as printed, our numbers put into a printed formula, or a printed classification.
Tolerances follow from the digits printed. `unit_si` is the size of the printed unit in SI.
"""

import json
import math
from pathlib import Path

import pytest
from steelyard.geometry import angle_of, direction
from steelyard.model import Body, Couple, Force, Pivot, Settings, Sketch, Support, Thing
from steelyard.statics import analyse, shape

CASES = json.loads((Path(__file__).parent / "cases.json").read_text(encoding="utf-8"))


def _named(case) -> str:
    said = {"read": "", "memory": "from memory of ", "identity": ""}[case["seen"]]
    return f"{case['id']}: {case['what']} ({said}{case['source']})"


def _sketch(case) -> Sketch:
    points = tuple(tuple(point) for point in case["points_m"])
    body = Body("body", "plate" if case["body"] == "plate" else "bent-bar", "body", (0.0, 0.0), 0.0, points_m=points)
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
        settings=Settings(g_m_s2=case.get("g_m_s2", 9.81)),
    )


def _load(load, load_id):
    at = tuple(load["at_m"])
    if "couple_n_m" in load:
        value = load["couple_n_m"]
        return Couple(load_id, "body", at, "C", couple_n_m=abs(value), counterclockwise=value > 0.0)
    if "mass_kg" in load:
        return Thing(load_id, "body", at, "P", "load", load["mass_kg"])
    return Force(load_id, "body", at, "F", size_n=load["size_n"], direction_deg=load["direction_deg"])


def _support(hold):
    at, name, kind = tuple(hold["at_m"]), hold["id"], hold["kind"]
    if kind == "roller":
        return Support(name, "roller", "body", at, name, normal_deg=hold["direction_deg"], two_way=True)
    if kind == "rope":
        along = direction(hold["direction_deg"])
        return Support(name, "rope", "body", at, name, anchor_m=(at[0] + along[0], at[1] + along[1]))
    if kind == "strut":
        return Support(name, "strut", "body", at, name, anchor_m=tuple(hold["anchor_m"]))
    if kind == "unknown size":
        return Force(name, "body", at, name, role="unknown", direction_deg=hold["direction_deg"])
    if kind == "contact force":  # normal and friction together: the whole force of a rough contact
        return Force(name, "body", at, name, type="contact", role="unknown", sought="size and direction")
    return Support(name, kind, "body", at, name)


def _value(case, sketch, analysis, expected) -> float:
    of, quantity = expected["of"], expected["quantity"]
    if of == "centre":
        return shape.centre_of_mass(sketch.bodies[0])["xy".index(quantity)]
    if of == "supports":
        count = sum({"pin": 2, "fixed": 3}.get(hold["kind"], 1) for hold in case["holds"])
        free = analysis.supports.degree if analysis.supports.kind == "mechanism" else 0
        return free if quantity == "ways free" else count - (3 - free)
    if of == "sum":
        total = analysis.applied
        return {
            "x": total.fx_n,
            "y": total.fy_n,
            "torque": total.torque_n_m,
            "size": math.hypot(total.fx_n, total.fy_n),
            "direction": angle_of((total.fx_n, total.fy_n)),
        }[quantity]
    reading = analysis.reading(of)
    if quantity in "xy":
        return reading.components_n["xy".index(quantity)]
    if quantity == "slope":  # angle to the level, whichever way the force points
        return math.degrees(math.atan2(abs(reading.vector[1]), abs(reading.vector[0])))
    return {
        "size": reading.size_n,
        "direction": reading.direction_deg,
        "couple": reading.couple_n_m,
        "arm": reading.turning.arm_m,
    }[quantity]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_printed_figure_is_what_the_engine_gives(case):
    sketch = _sketch(case)
    analysis = analyse(sketch)
    for expected in case["expected"]:
        value = _value(case, sketch, analysis, expected)
        assert value is not None, _named(case)
        # A tie, 267.5 printed as 268, is half a unit off by more than half a unit in binary.
        slack = expected["tolerance"] + 1e-12 * abs(expected["value"])
        assert value / expected["unit_si"] == pytest.approx(expected["value"], rel=0.0, abs=slack), (
            f"{expected['of']} {expected['quantity']} of {_named(case)}"
        )


@pytest.mark.parametrize(
    "case", [case for case in CASES if case["loads"] and case["holds"]], ids=lambda case: case["id"]
)
def test_printed_case_is_in_balance(case):
    assert analyse(_sketch(case)).balance.kind == "balanced", _named(case)


def test_every_case_names_its_source():
    assert len({case["id"] for case in CASES}) == len(CASES) >= 50
    for case in CASES:
        assert case["source"] and case["seen"] in ("read", "memory", "identity")
