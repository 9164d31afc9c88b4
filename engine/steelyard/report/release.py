"""What happens when a body is let go, in sentences, as data, and as text for a terminal."""

from __future__ import annotations

import math

from ..geometry import Point, Vector, angle_of
from ..model import Settings, Sketch, Thing
from ..picture.text import plain
from ..statics import axes
from ..statics.held import Held
from ..statics.holding import BACK
from ..statics.inertia import Inertia
from ..statics.joints import rests_on_a_corner
from ..statics.motion import Motion
from ..statics.pivot import place_of
from ..statics.reading import ActingForce
from ..statics.released import Release
from ..units import NO_BREAK_SPACE, write_exact, write_quantity
from ..working.phrases import direction_words

Data = dict[str, object]

# A place this near a named one, as a part of the body's size, is that place.
_SAME = 1e-7
# An energy is never kept better than to the last digits of its parts.
_LAST_DIGITS = 1e-15


def said(sketch: Sketch, found: Release) -> list[str]:
    """How it starts, what the supports then do, and what becomes of what stands on it; or why there is no answer."""
    if found.trouble:
        return [found.trouble]
    words = _start(sketch, found)
    then = "" if found.at_rest else " then"
    shared = [_named(each.force) for each in found.held if each.vector is None and each.couple_n_m is None]
    for each in found.held:
        words += _support(each, then, sketch.settings)
    if shared:
        words.append(f"Motion and statics together leave open how these share it: {', '.join(shared)}.")
    if found.agreeing > 1:
        words.append(f"But {found.agreeing} outcomes agree with themselves: {_open(found)}. The first is told.")
    for thing in found.things:
        name = thing.force.by or plain(thing.force.symbol)
        if thing.left:
            words.append(
                f"The {name} is left behind in the air: the {_body(sketch, found)} drops faster than it falls."
            )
        elif not found.at_rest:
            words.append(f"The {name} rides along and presses with {_vector(thing.push_n, sketch.settings)}.")
    return words


def _open(found: Release) -> str:
    """What rigid bodies leave undecided."""
    open_ways = ["what stands on it may ride along or be left behind"] if found.things else []
    if found.gripped is not None:
        open_ways.append("it may stick, slip or lift at its contacts")
    return " and ".join(open_ways)


def _start(sketch: Sketch, found: Release) -> list[str]:
    settings = sketch.settings
    alpha, acceleration = found.alpha_rad_s2, found.acceleration_m_s2
    if found.at_rest:
        return ["It stays at rest: a = 0 and α = 0."]
    size = math.hypot(*acceleration)
    level = f"a = {write_quantity(size, 'acceleration', settings)}"
    if not alpha:
        return [f"It starts {_way(acceleration, settings)} without turning, with {level}."]
    turn = settings.counterclockwise_word if alpha > 0.0 else "clockwise"
    turning = f"α = {write_quantity(abs(alpha), 'number', settings)}{NO_BREAK_SPACE}rad/s²"
    if size == 0.0:
        return [f"It starts to turn {turn} about its {settings.mass_centre_word} with {turning}."]
    moves = f"ts {settings.mass_centre_word} starts {_way(acceleration, settings)} with {level}"
    about = _place(sketch, found)
    if about:
        return [f"It starts to turn {turn} about {about} with {turning}.", f"I{moves}."]
    return [f"I{moves}, and it turns {turn} with {turning}."]


def _place(sketch: Sketch, found: Release) -> str:
    """The name of the point it starts to turn about; "" where that has none."""
    centre, moving = found.turning_centre_m, found.moving
    if centre is None or moving is None:
        return ""
    near = _SAME * max(math.dist(centre, moving.centre_m), math.sqrt(moving.moment_kg_m2 / moving.mass_kg))
    for point in sketch.points:
        there = place_of(sketch, point.id)
        if point.name and there is not None and math.dist(there, centre) <= near:
            return point.name
    for each in found.held:
        if each.force.type == "pin" and math.dist(each.force.point, centre) <= near:
            return f"the {each.force.by}" if each.force.by else f"the point where {plain(each.force.symbol)} acts"
    return ""


def _support(held: Held, then: str, settings: Settings) -> list[str]:
    force, vector = held.force, held.vector
    name = _named(force)
    if held.mode == "lets go":
        return [f"{_first(name)} {_letting_go(force)}."]
    if held.couple_n_m is not None:
        turn = settings.counterclockwise_word if held.couple_n_m > 0.0 else "clockwise"
        size = write_quantity(abs(held.couple_n_m), "couple", settings)
        return [f"{_first(name)}{then} gives a couple of {size}, {turn}."]
    if held.mode == "tips":
        return [
            f"{_first(name)}{then} presses at one end only, with {_vector(vector or (0.0, 0.0), settings)}: it tips."
        ]
    if force.type == "friction":
        return [_friction(held, then, settings)]
    if held.mode == "touches":
        return [f"{_first(name)} touches it without pushing."]
    if vector is None:
        return []
    if not any(vector):
        return [f"{_first(name)}{then} gives no force."]
    verb = "pulls" if force.type == "tension" else "acts" if force.type == "strut" else "pushes"
    return [f"{_first(name)}{then} {verb} with {_vector(vector, settings)}."]


def _friction(held: Held, then: str, settings: Settings) -> str:
    """What friction does, and whether the body slides against it."""
    force, vector = held.force, held.vector
    name = _first(f"friction ({plain(force.symbol)})")
    x, y = force.along or (0.0, 0.0)
    sense = 1.0 if held.parting_m_s2 > 0.0 else -1.0
    way = direction_words((sense * x, sense * y))
    if held.mode == "slips":
        where = f" at the {force.by}" if force.by else ""
        if vector is None or not any(vector):
            return f"It slips {way}{where}, without friction."
        return f"It slips {way}{where}: friction ({plain(force.symbol)}) is all there is, {_vector(vector, settings)}."
    if vector is None:
        return f"{name} holds it there without slipping."
    if not any(vector):
        return f"{name}{then} gives no force: it does not slip."
    return f"{name}{then} holds with {_vector(vector, settings)}: it does not slip."


def _letting_go(force: ActingForce) -> str:
    return "goes slack" if force.type == "tension" else "lets go"


def _named(force: ActingForce) -> str:
    """ "the hinge (R)"; its letter alone where nobody named the agent."""
    symbol = plain(force.symbol)
    return f"the {force.by} ({symbol})" if force.by else symbol


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]


def _body(sketch: Sketch, found: Release) -> str:
    return sketch.body(found.body).name or "body"


def _vector(vector: Vector, settings: Settings) -> str:
    """ "412 N up", "980 N up and to the left (132°)"."""
    return f"{write_quantity(math.hypot(*vector), 'force', settings)} {_way(vector, settings)}"


def _way(vector: Vector, settings: Settings) -> str:
    words = direction_words(vector, above=settings.seen_from == "above")
    return f"{words} ({write_quantity(angle_of(vector), 'angle', settings)})" if " and " in words else words


def ending(sketch: Sketch, motion: Motion) -> str:
    """What changes on the way of the motion, and why it ends when it does."""
    settings = sketch.settings
    said = [
        f"After {seconds(time_s, settings)} {_happens(sketch, what, of)}." for time_s, what, of in motion.on_the_way
    ]
    time = seconds(motion.duration_s, settings)
    what = _happens(sketch, motion.ends, motion.of)
    said.append(f"After {time} {what}: the motion shown ends there." if what else f"Shown for {time}.")
    return " ".join(said)


def _happens(sketch: Sketch, what: str, of: str) -> str:
    """What happens at a support or to a thing, in words; "" where only the time is up."""
    support = next((each for each in sketch.supports if of in (each.id, each.id + BACK)), None)
    rope = support is not None and support.kind == "rope"
    name = (f"the {support.agent}" if support.agent else plain(support.symbol)) if support is not None else ""
    for load in sketch.loads:
        if load.id == of:
            name = f"the {load.name}" if isinstance(load, Thing) and load.name else plain(load.symbol)
    return {
        "lets go": f"{name} goes slack" if rope else f"{name} lets go",
        "holds again": f"{name} goes taut" if rope else f"it meets {name} again",
        "left behind": f"{name} is left behind",
        "caught up": f"{name} lands on it again",
        "slides off": f"it slides off {name}",
        "slips": f"it begins to slip at {name}",
        "sticks": f"it stops sliding at {name}",
        "jams": f"friction at {name} would grow past all bounds: rigid bodies have no answer from there",
    }.get(what, "")


def energy_kept(motion: Motion, settings: Settings) -> str:
    """How well the energy is kept."""
    error = write_quantity(max(motion.energy_error, _LAST_DIGITS), "number", settings, figures=1)
    return f"Energy kept to {error} of the greatest energy of motion."


def assumed(sketch: Sketch, found: Release) -> str:
    """The idealisations, in one sentence."""
    settings = sketch.settings
    body = sketch.body(found.body)
    rough = any(each.force.type == "friction" for each in found.held)
    supports = "as rough sliding as at rest" if rough else "supports smooth"
    items = ["starts from rest", "rigid", f"{supports}, and where they are", "nothing else in the way"]
    items.append("mass spread as in the uniform shape")
    if body.centre_m is not None:
        items[-1] += f", but about the {settings.mass_centre_word} set by hand"
    if any(body.id in (each.body, each.other) and each.other for each in sketch.supports):
        items.append("the bodies it is joined to held where they are")
    if any(load.body == body.id and not isinstance(load, Thing) for load in sketch.loads):
        items.append("arrows keep their size and direction")
    if any(not thing.left for thing in found.things):
        items.append("what stands on it rides along without sliding, as a point mass")
    corners = [
        each.agent or plain(each.symbol)
        for each in sketch.supports
        if each.body == body.id and rests_on_a_corner(each, body)
    ]
    if corners:
        items.append(f"it slides over a fixed corner ({', '.join(corners)})")
    if settings.seen_from == "side":
        items.append(f"g = {write_exact(settings.g_m_s2, 'acceleration', settings)}")
    return f"Assumed: {'; '.join(items)}."


def seconds(time_s: float, settings: Settings) -> str:
    """A time in the sketch's figures."""
    return f"{write_quantity(time_s, 'number', settings)}{NO_BREAK_SPACE}s"


def release_data(sketch: Sketch, found: Release, motion: Motion | None) -> Data:
    """The instant of release and the motion as JSON data. Components along the sketch's axes, points in the world."""
    x_axis = axes.x_axis(sketch)
    answered = not found.trouble
    return {
        "body": found.body,
        "trouble": found.trouble,
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
        "modes_tried": found.modes_tried,
        "outcomes": found.agreeing,
        "unique": found.unique,
        "sentences": said(sketch, found),
        "assumed": assumed(sketch, found) if answered else "",
        "motion": None if motion is None else _motion(sketch, motion),
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
        "poses": [
            {
                "time_s": pose.time_s,
                "origin_m": list(pose.origin_m),
                "turned_deg": math.degrees(pose.turned_rad),
                "alpha_rad_s2": pose.alpha_rad_s2,
                "kinetic_j": pose.kinetic_j,
            }
            for pose in motion.poses
        ],
    }


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
    lines = [sketch.title, f"The {_body(sketch, found)} is let go from rest.", "", *said(sketch, found)]
    own = found.own
    if own is not None:
        mass = write_quantity(own.mass_kg, "mass", sketch.settings)
        moment = write_quantity(own.moment_kg_m2, "number", sketch.settings)
        centre = sketch.settings.mass_centre_word
        lines += ["", f"Mass {mass}; moment of inertia about its {centre} {moment} kg·m²."]
    if motion is not None:
        lines += ["", ending(sketch, motion), energy_kept(motion, sketch.settings)]
    if not found.trouble:
        lines += ["", assumed(sketch, found)]
    return "\n".join([*lines, *(["", sketch.caution] if sketch.caution else [])])
