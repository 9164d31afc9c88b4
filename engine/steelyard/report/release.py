"""What happens when a body, or several joined ones, are let go: as data, and as text for a terminal."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..geometry import Point
from ..kinetics.inertia import Inertia
from ..kinetics.motion import Motion
from ..kinetics.released import Release
from ..kinetics.walking import Pose
from ..model import Sketch
from ..statics import axes
from ..units import write_quantity
from .letting_go import assumed, body_name, ending, energy_kept, said

Data = dict[str, object]


def release_data(sketch: Sketch, found: Release, motion: Motion | None) -> Data:
    """The instant of release and the motion as JSON data. Components along the sketch's axes, points in the world."""
    return {
        "body": found.body,
        "trouble": found.trouble,
        **_start(sketch, found),
        "modes_tried": found.modes_tried,
        "outcomes": found.agreeing,
        "unique": found.unique,
        "bodies": [_start(sketch, each) for each in found.bodies],
        "sentences": said(sketch, found),
        "assumed": "" if found.trouble else assumed(sketch, found),
        "motion": None if motion is None else _motion(sketch, motion),
    }


def _start(sketch: Sketch, found: Release) -> Data:
    """How one body starts."""
    x_axis = axes.x_axis(sketch)
    answered = not found.trouble
    return {
        "body": found.body,
        "at_rest": found.at_rest if answered else None,
        "acceleration_m_s2": list(axes.along(found.acceleration_m_s2, x_axis)) if answered else None,
        "alpha_rad_s2": found.alpha_rad_s2 if answered else None,
        "turning_centre_m": _listed(found.turning_centre_m),
        "own": _inertia(found.own),
        "moving": _inertia(found.moving),
        "supports": [
            {
                "force": each.force.id,
                "mode": each.mode,
                "fx_n": None if each.vector is None else axes.along(each.vector, x_axis)[0],
                "fy_n": None if each.vector is None else axes.along(each.vector, x_axis)[1],
                "couple_n_m": each.couple_n_m,
                "parting_m_s2": each.parting_m_s2,
            }
            for each in found.held
        ],
        "things": [
            {
                "force": thing.force.id,
                "left_behind": thing.left,
                "fx_n": axes.along(thing.push_n, x_axis)[0],
                "fy_n": axes.along(thing.push_n, x_axis)[1],
            }
            for thing in found.things
        ],
    }


def _motion(sketch: Sketch, motion: Motion) -> Data:
    return {
        "duration_s": motion.duration_s,
        "ends": motion.ends,
        "of": motion.of,
        "on_the_way": [{"time_s": time_s, "change": what, "of": of} for time_s, what, of in motion.on_the_way],
        "sentence": ending(sketch, motion),
        "energy_error": motion.energy_error,
        "step_s": motion.step_s,
        "poses": _poses(motion.poses),
        "bodies": [{"body": body, "poses": _poses(poses)} for body, poses in motion.bodies],
    }


def _poses(poses: Sequence[Pose]) -> list[Data]:
    return [
        {
            "time_s": pose.time_s,
            "origin_m": list(pose.origin_m),
            "turned_deg": math.degrees(pose.turned_rad),
            "alpha_rad_s2": pose.alpha_rad_s2,
            "kinetic_j": pose.kinetic_j,
        }
        for pose in poses
    ]


def _inertia(inertia: Inertia | None) -> Data | None:
    if inertia is None:
        return None
    return {
        "mass_kg": inertia.mass_kg,
        "centre_m": list(inertia.centre_m),
        "moment_of_inertia_kg_m2": inertia.moment_kg_m2,
    }


def _listed(point: Point | None) -> list[float] | None:
    return None if point is None else list(point)


def release_text(sketch: Sketch, found: Release, motion: Motion | None) -> str:
    """What happens, for reading in a terminal."""
    name = body_name(sketch, found)
    let_go = f"The {name} and all that is joined to it are" if found.bodies else f"The {name} is"
    lines = [sketch.title, f"{let_go} let go from rest.", "", *said(sketch, found)]
    for each in found.bodies or (found,):
        own = each.own
        if own is None:
            continue
        mass = write_quantity(own.mass_kg, "mass", sketch.settings)
        moment = write_quantity(own.moment_kg_m2, "number", sketch.settings)
        of = f" of the {body_name(sketch, each)}" if found.bodies else ""
        centre = sketch.settings.mass_centre_word
        lines += ["", f"Mass{of} {mass}; moment of inertia about its {centre} {moment} kg·m²."]
    if motion is not None:
        lines += ["", ending(sketch, motion), energy_kept(motion, sketch.settings)]
    if not found.trouble:
        lines += ["", assumed(sketch, found)]
    return "\n".join([*lines, *(["", sketch.caution] if sketch.caution else [])])
