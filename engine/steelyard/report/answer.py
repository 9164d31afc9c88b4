"""The whole answer as JSON data; its shape is `answer.schema.json`, shipped beside the engine.

Newtons, metres, degrees. Null stands where statics fixes no value, or where the notion does not apply; components
are along the sketch's own axes, torques positive counterclockwise.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import asdict

from ..geometry import Vector, angle_of, length
from ..kinetics.motion import motion
from ..kinetics.release import release
from ..limits.changes import Limits
from ..model import Sketch
from ..statics import axes, pivot
from ..statics.advice import advice, ends_of
from ..statics.equations import Equations, equations
from ..statics.reach import reaches
from ..statics.reading import Analysis, ForceReading, Resultant, Turning
from ..statics.theorems import theorems
from ..statics.uncertainty import Uncertainty, uncertainty
from ..statics.use import uses
from .limits import limits_data
from .reaches import failure_data, ranges_data
from .release import release_data
from .whole import whole_data

FORMAT = "steelyard-answer"
VERSION = 1

Data = dict[str, object]


def answer_data(sketch: Sketch, analysis: Analysis, limits: Sequence[Limits] = ()) -> Data:
    """Verdicts, forces, sums, ranges, limits where asked for, the system solved, and what geometry says of it."""
    supports = analysis.supports
    balance = analysis.balance
    let_go = release(sketch, analysis.body)
    return {
        "format": FORMAT,
        "version": VERSION,
        "title": sketch.title,
        "body": analysis.body,
        "bodies": list(analysis.bodies),
        "things": [each for each in analysis.system if each not in analysis.bodies],
        "g_m_s2": sketch.settings.g_m_s2,
        "x_axis_deg": angle_of(analysis.x_axis),
        "balance": {"kind": None if balance.kind == "open" else balance.kind, "sentence": balance.sentence},
        "supports": {
            "kind": supports.kind,
            "degree": supports.degree,
            "sentence": supports.sentence,
            "reason": supports.reason,
            "near": supports.near,
            "still_fixed": list(supports.still_fixed),
            "failing": list(supports.failing),
            "free_motion": [list(motion) for motion in supports.free_motion],
            "balanced_as_it_stands": supports.balanced_as_it_stands,
            **failure_data(supports),
        },
        "whole": whole_data(sketch, analysis),
        "pivot_m": list(analysis.pivot),
        "pivot_name": pivot.name_of(sketch),
        "forces": [entry for reading in analysis.readings for entry in _force_entries(reading, analysis.x_axis)],
        "applied": _resultant(analysis.applied, analysis.x_axis),
        "residual": _resultant(analysis.residual, analysis.x_axis),
        "ranges": ranges_data(reaches(sketch, analysis.body)),
        "use": [
            {
                "force": each.force,
                "kind": each.kind,
                "least": each.least,
                "greatest": each.greatest,
                "limit": each.limit,
            }
            for each in uses(sketch, analysis.body)
        ],
        "uncertainty": _uncertainty(uncertainty(sketch, bodies=analysis.system)),
        "limits": [limits_data(each) for each in limits],
        "release": release_data(sketch, let_go, motion(sketch, let_go, body_id=analysis.body)),
        "system": system_data(equations(sketch, analysis)),
        "advice": [
            {
                "point_m": None if each.point is None else list(each.point),
                "along_deg": None if each.along is None else angle_of(each.along),
                "source": each.source,
                "drops_out": list(each.drops),
                "left": list(each.left),
            }
            for each in advice(analysis, ends_of(sketch, analysis))
        ],
        "theorems": [
            {
                "kind": each.kind,
                "forces": list(each.forces),
                "direction_deg": None if each.direction is None else angle_of(each.direction),
                "point_m": None if each.point is None else list(each.point),
                "implies": each.implies,
                "member": each.member,
            }
            for each in theorems(analysis)
        ],
    }


def _uncertainty(found: Uncertainty | None) -> Data | None:
    if found is None:
        return None
    return {
        "inputs": [
            {"path": number.path, "value": number.value, "half_width": width}
            for number, width in zip(found.inputs, found.half_widths, strict=True)
        ],
        "spreads": [
            {
                "force": spread.force,
                "quantity": spread.quantity,
                "value": spread.value,
                "half_width": spread.half_width,
                "error": spread.error,
                "most": spread.most,
                "shares": [asdict(share) for share in spread.shares],
                "worst_case": None if spread.extent is None else asdict(spread.extent),
            }
            for spread in found.spreads
        ],
        "trouble": found.trouble,
        "may_fail": list(found.may_fail),
    }


def system_data(system: Equations) -> Data:
    """The system as assembled about the pivot, and the decision about its rank."""
    rank = system.rank
    return {
        "unknowns": [asdict(each) | {"wrench": list(each.wrench)} for each in system.unknowns],
        "applied": list(system.applied),
        "conditions": [asdict(each) for each in system.conditions],
        "letters": [asdict(each) | {"wrench": list(each.wrench)} for each in system.letters],
        "left_over": None if system.left_over is None else list(system.left_over),
        "rank": rank.rank,
        "centre_m": list(rank.centre_m),
        "lever_m": rank.lever_m,
        "pivots": list(rank.pivots),
        "limit": rank.limit,
        "margin": _finite(rank.margin),
        "singular_values": list(rank.singular_values),
    }


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _resultant(total: Resultant | None, x_axis: Vector) -> Data:
    if total is None:
        return {"fx_n": None, "fy_n": None, "torque_n_m": None, "line_point_m": None}
    fx, fy = axes.along((total.fx_n, total.fy_n), x_axis)
    return {
        "fx_n": fx,
        "fy_n": fy,
        "torque_n_m": total.torque_n_m,
        "line_point_m": None if total.line_point is None else list(total.line_point),
    }


def _force_entries(reading: ForceReading, x_axis: Vector) -> list[Data]:
    """The entry of a force, and one more for its guess where it has one."""
    entries = [_force(reading)]
    if reading.guess_turning is not None:
        entries.append(_guess(reading, reading.guess_turning, x_axis))
    return entries


def _named(reading: ForceReading, role: str) -> Data:
    force = reading.force
    return {
        "id": force.id,
        "name": force.symbol,
        "type": force.type,
        "by": force.by,
        "on": force.on,
        "role": role,
        "point_m": list(force.point),
    }


def _turning(turning: Turning) -> Data:
    return {
        "arm_m": turning.arm_m,
        "foot_m": None if turning.foot is None else list(turning.foot),
        "sense": turning.sense,
        "torque_n_m": turning.torque_n_m,
        "drops_out": turning.drops_out,
    }


def _force(reading: ForceReading) -> Data:
    is_couple = reading.force.along is None
    fx, fy = (0.0, 0.0) if is_couple else reading.components_n
    return {
        **_named(reading, reading.force.role),
        "fx_n": fx,
        "fy_n": fy,
        "couple_n_m": reading.couple_n_m if is_couple else 0.0,
        "size_n": reading.size_n,
        "direction_deg": reading.direction_deg,
        **_turning(reading.turning),
        "fixed": reading.fixed,
        "against_drawn": reading.against_drawn,
        "cannot": reading.cannot,
    }


def _guess(reading: ForceReading, turning: Turning, x_axis: Vector) -> Data:
    guess = reading.force.guess
    fx, fy = (0.0, 0.0) if guess is None else axes.along(guess, x_axis)
    return {
        **_named(reading, "guess"),
        "fx_n": fx,
        "fy_n": fy,
        "couple_n_m": 0.0 if guess is not None else reading.force.guess_couple_n_m,
        "size_n": None if guess is None else length(guess),
        "direction_deg": None if guess is None else angle_of(guess),
        **_turning(turning),
        "fixed": True,
        "against_drawn": False,
        "cannot": "",
    }
