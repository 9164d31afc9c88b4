"""What happens when a body, or several joined ones, are let go: in sentences."""

from __future__ import annotations

import math

from ..geometry import Vector, angle_of
from ..kinetics.following import not_followed
from ..kinetics.held import Held
from ..kinetics.joints import rests_on_a_corner
from ..kinetics.motion import Motion
from ..kinetics.released import Release
from ..model import Settings, Sketch, Thing
from ..picture.text import plain
from ..statics.holding import BACK
from ..statics.pivot import place_of
from ..statics.reading import ActingForce
from ..units import NO_BREAK_SPACE, write_exact, write_quantity
from ..working.phrases import direction_words

# A place this near a named one, as a part of the body's size, is that place.
_SAME = 1e-7
# An energy is never kept better than to the last digits of its parts.
_LAST_DIGITS = 1e-15


def said(sketch: Sketch, found: Release) -> list[str]:
    """How it starts, what the supports then do, and what becomes of what stands on it; or why there is no answer.

    Of joined bodies: how each of them starts, and each joint once, as it acts on the body it is on.
    """
    if found.trouble:
        return [found.trouble]
    told = found.bodies or (found,)
    names = [f"the {body_name(sketch, each)}" if found.bodies else "it" for each in told]
    if found.bodies and found.all_at_rest:
        words = ["All of it stays at rest: a = 0 and α = 0."]
    else:
        words = [sentence for each, name in zip(told, names, strict=True) for sentence in _start(sketch, each, name)]
    then = "" if found.all_at_rest else " then"
    shared = []
    for each, name in zip(told, names, strict=True):
        fronts = [held for held in each.held if not held.force.back]
        shared += [_named(held.force) for held in fronts if held.vector is None and held.couple_n_m is None]
        for held in fronts:
            words += _support(held, then, name, sketch.settings)
    if shared:
        words.append(f"Motion and statics together leave open how these share it: {', '.join(shared)}.")
    if found.agreeing > 1:
        words.append(f"But {found.agreeing} outcomes agree with themselves: {_open(found)}. The first is told.")
    words += [sentence for each in told for sentence in _things(sketch, each)]
    why_not = not_followed(sketch, found)
    return [*words, f"The motion is not followed any further: {why_not}."] if why_not else words


def _things(sketch: Sketch, found: Release) -> list[str]:
    """What becomes of the things that stand on a body."""
    words = []
    for thing in found.things:
        name = thing.force.by or plain(thing.force.symbol)
        if thing.left:
            words.append(
                f"The {name} is left behind in the air: the {body_name(sketch, found)} drops faster than it falls."
            )
        elif not found.at_rest:
            words.append(f"The {name} rides along and presses with {_vector(thing.push_n, sketch.settings)}.")
    return words


def _open(found: Release) -> str:
    """What rigid bodies leave undecided."""
    things = any(each.things for each in (found, *found.bodies))
    open_ways = ["what stands on it may ride along or be left behind"] if things else []
    held = [each for one in (found, *found.bodies) for each in one.held]
    if any(each.force.type == "friction" for each in held):
        open_ways.append("it may stick, slip or lift at its contacts")
    return " and ".join(open_ways) or "more than one thing may happen where it touches"


def _start(sketch: Sketch, found: Release, name: str) -> list[str]:
    settings = sketch.settings
    alpha, acceleration = found.alpha_rad_s2, found.acceleration_m_s2
    it, centre = _first(name), settings.mass_centre_word
    of_it = f"Its {centre}" if name == "it" else f"The {centre} of {name}"
    if found.at_rest:
        return [f"{it} stays at rest: a = 0 and α = 0."]
    size = math.hypot(*acceleration)
    level = f"a = {write_quantity(size, 'acceleration', settings)}"
    if not alpha:
        return [f"{it} starts {_way(acceleration, settings)} without turning, with {level}."]
    turn = settings.counterclockwise_word if alpha > 0.0 else "clockwise"
    turning = f"α = {write_quantity(abs(alpha), 'number', settings)}{NO_BREAK_SPACE}rad/s²"
    if size == 0.0:
        return [f"{it} starts to turn {turn} about its {centre} with {turning}."]
    moves = f"starts {_way(acceleration, settings)} with {level}"
    about = _place(sketch, found)
    if about:
        return [f"{it} starts to turn {turn} about {about} with {turning}.", f"Its {centre} {moves}."]
    return [f"{of_it} {moves}, and it turns {turn} with {turning}."]


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


def _support(held: Held, then: str, on: str, settings: Settings) -> list[str]:
    """What one support does; `on` is the name of the body it acts on, "it" where there is only one."""
    force, vector = held.force, held.vector
    name = _named(force)
    if held.mode == "lets go":
        return [f"{_first(name)} {_letting_go(force)}."]
    whom = "" if on == "it" else f" {on}"
    if held.couple_n_m is not None:
        turn = settings.counterclockwise_word if held.couple_n_m > 0.0 else "clockwise"
        size = write_quantity(abs(held.couple_n_m), "couple", settings)
        return [f"{_first(name)}{then} gives{whom} a couple of {size}, {turn}."]
    if held.mode == "tips":
        return [
            f"{_first(name)}{then} presses{whom} at one end only, with "
            f"{_vector(vector or (0.0, 0.0), settings)}: it tips."
        ]
    if force.type == "friction":
        return [_friction(held, then, on, settings)]
    if held.mode == "touches":
        return [f"{_first(name)} touches {on} without pushing."]
    if vector is None:
        return []
    if not any(vector):
        return [f"{_first(name)}{then} gives{whom} no force."]
    if force.type == "strut":
        return [f"{_first(name)}{then} acts{whom and ' on'}{whom} with {_vector(vector, settings)}."]
    verb = "pulls" if force.type == "tension" else "pushes"
    return [f"{_first(name)}{then} {verb}{whom} with {_vector(vector, settings)}."]


def _friction(held: Held, then: str, on: str, settings: Settings) -> str:
    """What friction does, and whether the body slides against it."""
    force, vector = held.force, held.vector
    name = _first(f"friction ({plain(force.symbol)})")
    x, y = force.along or (0.0, 0.0)
    sense = 1.0 if held.parting_m_s2 > 0.0 else -1.0
    way = direction_words((sense * x, sense * y))
    if held.mode == "slips":
        where = f" at the {force.by}" if force.by else ""
        if vector is None or not any(vector):
            return f"{_first(on)} slips {way}{where}, without friction."
        friction = f"friction ({plain(force.symbol)}) is all there is, {_vector(vector, settings)}"
        return f"{_first(on)} slips {way}{where}: {friction}."
    if vector is None:
        return f"{name} holds {on} there without slipping."
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


def body_name(sketch: Sketch, found: Release) -> str:
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
    told = found.bodies or (found,)
    bodies = [sketch.body(each.body) for each in told]
    ids = {body.id for body in bodies}
    rough = any(held.force.type == "friction" for each in told for held in each.held)
    supports = "as rough sliding as at rest" if rough else "supports smooth"
    items = ["starts from rest", "rigid", f"{supports}, and where they are", "nothing else in the way"]
    items.append("mass spread as in the uniform shape")
    if any(body.centre_m is not None for body in bodies):
        items[-1] += f", but about the {settings.mass_centre_word} set by hand"
    if found.bodies:
        items.append("all that is joined moves together")
    if any(load.body in ids and not isinstance(load, Thing) for load in sketch.loads):
        items.append("arrows keep their size and direction")
    if any(not thing.left for each in told for thing in each.things):
        items.append("what stands on it rides along without sliding, as a point mass")
    corners = [
        each.agent or plain(each.symbol)
        for each in sketch.supports
        if each.body in ids and each.other is None and rests_on_a_corner(each, sketch.body(each.body))
    ]
    if corners:
        items.append(f"it slides over a fixed corner ({', '.join(corners)})")
    if settings.seen_from == "side":
        items.append(f"g = {write_exact(settings.g_m_s2, 'acceleration', settings)}")
    return f"Assumed: {'; '.join(items)}."


def seconds(time_s: float, settings: Settings) -> str:
    """A time in the sketch's figures."""
    return f"{write_quantity(time_s, 'number', settings)}{NO_BREAK_SPACE}s"
