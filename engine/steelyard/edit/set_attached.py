"""Fields of what is attached to a body: supports, forces, couples, things, named points."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypeVar, get_args

from ..document import on_body
from ..document.table import NAME_LIMIT, SYMBOL_LIMIT
from ..geometry import Point, direction, distance
from ..model import Couple, Force, ForceType, Guess, NamedPoint, Sketch, SpreadLoad, Support, SupportKind, Thing
from ..statics import axes, shape
from ..statics.holding import anchor
from ..units import write_exact
from .answered import as_answered
from .change import Attached, angle_between, fail, line_of, put, tidy, tidy_point, world_place
from .placing import AGENTS, usual_normal, usual_reach
from .set_contact import CONTACT_KEYS, set_contact
from .shaping import at_place, kept_place, place_on
from .spreading import set_load
from .typed import Typed, no_such_field
from .unknowns import guess_of, with_guess

Typeable = TypeVar("Typeable", Force, SpreadLoad)


def set_attached(sketch: Sketch, entity: Attached, key: str, typed: Typed) -> Sketch:
    """The sketch with one field of an attached thing changed; raises `SteelyardError`."""
    if key in ("at", "at_x", "at_y") or (key in ("x", "y") and isinstance(entity, NamedPoint)):
        return put(sketch, at_place(sketch, entity, _place(sketch, entity, key, typed)))
    if key.startswith("guess") and isinstance(entity, Support | Force | Couple):
        return put(sketch, _guessed(sketch, entity, key, typed))
    if key.startswith("friction_guess") and isinstance(entity, Support) and entity.mu is not None:
        return put(sketch, _guessed(sketch, entity, key.removeprefix("friction_"), typed, f"{entity.id}-friction"))
    if key == "as_answered" and isinstance(entity, Support | Force | Couple):
        return put(sketch, as_answered(sketch, entity))
    if key == "symbol" and not isinstance(entity, NamedPoint):
        return put(sketch, replace(entity, symbol=typed.words(SYMBOL_LIMIT, filled=True)))
    if key == "agent" and isinstance(entity, Support | Force | Couple | SpreadLoad):
        return put(sketch, replace(entity, agent=typed.words(NAME_LIMIT)))
    if key == "name" and isinstance(entity, Thing):
        return put(sketch, replace(entity, name=typed.words(NAME_LIMIT)))
    if key == "name" and isinstance(entity, NamedPoint):
        return put(sketch, replace(entity, name=typed.words(SYMBOL_LIMIT, filled=True)))
    if key == "mass" and isinstance(entity, Thing):
        return put(sketch, replace(entity, mass_kg=typed.maybe("mass", least=0.0)))
    if isinstance(entity, Support) and key in CONTACT_KEYS:
        return put(sketch, set_contact(sketch, entity, key, typed))
    if isinstance(entity, SpreadLoad) and key != "type":
        return put(sketch, set_load(sketch, entity, key, typed))
    change = _CHANGES.get((type(entity), key))
    if change is None:
        no_such_field(typed.where, getattr(entity, "symbol", "this point"))
    else:
        return put(sketch, change(sketch, entity, typed))
    return sketch


def _place(sketch: Sketch, entity: Attached, key: str, typed: Typed) -> Point:
    value = typed.quantity("length")
    x, y = entity.place_m
    wanted = (value, y) if key in ("at", "at_x", "x") else (x, value)
    if entity.body is None:
        return wanted
    body = sketch.body(entity.body)
    if on_body(body, wanted):
        return kept_place(body, wanted) if body.kind == "bar" else wanted
    if body.kind == "bar":
        length = write_exact(body.length_m, "length", sketch.settings)
        message = f'`{typed.where}` must be on the bar, from 0 to {length}: got "{typed.text}".'
        fail("off-body", typed.where, message, "Enter a distance from its start, or lengthen the bar first.")
    typed.note = f"Moved to the nearest point of {body.name}."
    return kept_place(body, wanted)


def _guessed(
    sketch: Sketch, entity: Support | Force | Couple, key: str, typed: Typed, of: str = ""
) -> Support | Force | Couple:
    of = of or entity.id
    couple = key == "guess_couple"
    if isinstance(entity, Couple) != couple and not (isinstance(entity, Support) and entity.kind == "fixed"):
        no_such_field(typed.where, entity.symbol)
    if not isinstance(entity, Support) and entity.role == "known":
        fail("guess", typed.where, f"{entity.symbol} is known: there is nothing to guess.", "Make it an unknown first.")
    if couple:
        value = typed.maybe("couple")
        guess = None if value is None else Guess(couple_n_m=value)
        return replace(entity, couple_guess=guess) if isinstance(entity, Support) else replace(entity, guess=guess)
    assert not isinstance(entity, Couple)
    line = line_of(sketch, entity, of)
    held = guess_of(entity, of) or Guess(direction_deg=45.0 if line is None else line)
    match key:
        case "guess":
            if typed.text.strip():
                fail("guess", typed.where, "A guess is dropped by emptying it.", "Type its size or its angle instead.")
            return with_guess(entity, of, None)
        case "guess_size":
            size = typed.maybe("force")
            return with_guess(entity, of, None if size is None else _turned(replace(held, size_n=size)))
        case "guess_angle":
            angle = typed.quantity("angle")
            if line is not None and abs(math.remainder(angle - line, 180.0)) > 1e-6:
                message = f"`{typed.where}` must lie on its line: got {angle:g}°."
                fail("guess", typed.where, message, f"Its line is at {line:g}°, or the other way.")
            return with_guess(entity, of, replace(held, direction_deg=angle))
    no_such_field(typed.where, entity.symbol)
    return entity


def _turned(guess: Guess) -> Guess:
    """A negative size is the same size the other way."""
    if guess.size_n >= 0.0:
        return guess
    return replace(guess, size_n=-guess.size_n, direction_deg=(guess.direction_deg + 180.0) % 360.0)


# Supports


def _towards(sketch: Sketch, support: Support, typed: Typed, part: int) -> Support:
    if support.anchor_m is None:
        no_such_field(typed.where, support.symbol)
    value = typed.quantity("length")
    x, y = support.anchor_m or (0.0, 0.0)
    far = (value, y) if part == 0 else (x, value)
    if support.other is not None:
        return replace(support, anchor_m=kept_place(sketch.body(support.other), far))
    if world_place(sketch, support) == far:
        fail("anchor", typed.where, f"`{typed.where}` must differ from where it is fastened.", "Move it away.")
    return replace(support, anchor_m=far)


def _other(sketch: Sketch, support: Support, typed: Typed) -> Support:
    """Joined to another body, or to the ground: a rope or strut keeps its far end, or takes the nearest place to it."""
    ids = tuple(body.id for body in sketch.bodies if body.id != support.body)
    wanted = typed.choice(("", *ids)) or None
    if wanted == support.other:
        return support
    far = anchor(sketch, support)
    old = "" if support.other is None else sketch.body(support.other).name
    agent = AGENTS[support.kind] if wanted is None and support.agent in ("", old) else support.agent
    if wanted is not None and far is None and agent == AGENTS[support.kind]:
        agent = ""  # the other body is what acts there
    changed = replace(support, other=wanted, agent=agent, over_m=support.over_m if wanted else None)
    if far is None:
        return changed
    if wanted is None:
        return replace(changed, anchor_m=tidy_point(far))
    body = sketch.body(wanted)
    place = place_on(body, far)
    if distance(shape.world(body, place), far) > 1e-9:
        typed.note = f"Its far end was put on {body.name}."
    return replace(changed, anchor_m=place)


def _over(sketch: Sketch, support: Support, typed: Typed) -> Support:
    """Over a fixed pulley, or straight: the pulley starts above both ends, half-way between them."""
    if support.kind != "rope" or support.other is None:
        no_such_field(typed.where, support.symbol)
    if not typed.switch():
        return replace(support, over_m=None)
    far = anchor(sketch, support)
    assert far is not None
    (x, y), (far_x, far_y) = world_place(sketch, support), far
    rise = max(0.5 * distance((x, y), far), usual_reach(sketch.body(support.body)))
    over = (float(f"{(x + far_x) / 2.0:.3g}"), float(f"{max(y, far_y) + rise:.2g}"))
    return replace(support, over_m=tidy_point(over))


def _over_part(sketch: Sketch, support: Support, typed: Typed, part: int) -> Support:
    if support.over_m is None:
        no_such_field(typed.where, support.symbol)
    value = typed.quantity("length")
    x, y = support.over_m or (0.0, 0.0)
    return replace(support, over_m=(value, y) if part == 0 else (x, value))


def _normal(sketch: Sketch, support: Support, typed: Typed) -> Support:
    if support.kind not in ("roller", "contact") or support.face_m is not None:
        no_such_field(typed.where, support.symbol)
    return replace(support, normal_deg=typed.quantity("angle"))


def _two_way(sketch: Sketch, support: Support, typed: Typed) -> Support:
    if support.kind != "roller":
        no_such_field(typed.where, support.symbol)
    on = typed.switch()
    return replace(support, two_way=on, drawn_deg=support.drawn_deg if on else None)


def _couple_symbol(sketch: Sketch, support: Support, typed: Typed) -> Support:
    return replace(support, couple_symbol=typed.words(SYMBOL_LIMIT, filled=True))


def _kind(sketch: Sketch, support: Support, typed: Typed) -> Support:
    """Another kind of support in the same place; what only the old kind had is dropped."""
    kinds: tuple[SupportKind, ...] = get_args(SupportKind)
    kind = next(one for one in kinds if one == typed.choice(kinds))
    if kind == support.kind:
        return support
    body = sketch.body(support.body)
    far, other = support.anchor_m, support.other
    x, y = world_place(sketch, support)
    if kind not in ("rope", "strut"):
        if far is not None:  # what reached another body does not touch it
            other = None
        far = None
    elif far is None:
        far, other = tidy_point((x, y + usual_reach(body))), None
    agent = AGENTS[kind] if support.agent in ("", AGENTS[support.kind]) else support.agent
    normal = support.normal_deg if support.kind in ("roller", "contact") else usual_normal(body, kind, support.place_m)
    return replace(
        support,
        kind=kind,
        agent=agent,
        anchor_m=far,
        other=other,
        over_m=support.over_m if kind == "rope" and other is not None else None,
        normal_deg=normal if kind in ("roller", "contact") else 90.0,
        two_way=False,
        drawn_deg=None,
        guess=None,
        couple_guess=None,
        mu=None,
        friction_guess=None,
        face_m=None,
        about_to="",
    )


# Forces


def _size(sketch: Sketch, force: Force, typed: Typed) -> Force:
    if force.role != "known":
        message = f"The size of {force.symbol} is to be found."
        fail("unknown", typed.where, message, "Make it known first, or type a guess.")
    size = typed.maybe("force")
    if size is not None and size < 0.0:
        typed.note = typed.note or "A negative size: the arrow was turned round."
        return replace(force, size_n=-size, direction_deg=tidy((force.direction_deg + 180.0) % 360.0))
    return replace(force, size_n=size)


def _angle(sketch: Sketch, force: Force, typed: Typed) -> Force:
    return replace(force, direction_deg=typed.quantity("angle"))


def _part(sketch: Sketch, force: Force, typed: Typed, part: int) -> Force:
    if force.role != "known":
        fail("unknown", typed.where, f"{force.symbol} is to be found.", "Make it known first, or type a guess.")
    x_axis = axes.x_axis(sketch)
    along = axes.along(direction(force.direction_deg), x_axis)
    size = force.size_n or 0.0
    value = typed.quantity("force")
    parts = (value, tidy(size * along[1])) if part == 0 else (tidy(size * along[0]), value)
    if parts == (0.0, 0.0):
        return replace(force, size_n=0.0)
    vector = axes.world(parts, x_axis)
    return replace(force, size_n=tidy(math.hypot(*vector)), direction_deg=angle_between((0.0, 0.0), vector))


def _role(sketch: Sketch, force: Force, typed: Typed) -> Force:
    """Known, or what of it is to be found. A guess becomes the size and direction when it is made known."""
    wanted = typed.choice(("known", "size", "size and direction"))
    if wanted == "known":
        if force.role == "known":
            return force
        held = force.guess
        known = replace(force, role="known", sought="size", one_way=False, guess=None)
        return known if held is None else replace(known, size_n=held.size_n, direction_deg=held.direction_deg)
    if wanted == "size":
        return replace(force, role="unknown", sought="size", size_n=None)
    return replace(force, role="unknown", sought="size and direction", size_n=None, one_way=False)


def _type(sketch: Sketch, force: Typeable, typed: Typed) -> Typeable:
    types: tuple[ForceType, ...] = get_args(ForceType)
    return replace(force, type=next(one for one in types if one == typed.choice(types)))


def _one_way(sketch: Sketch, force: Force, typed: Typed) -> Force:
    return replace(force, one_way=typed.switch())


def _head_at_point(sketch: Sketch, force: Force, typed: Typed) -> Force:
    return replace(force, head_at_point=typed.switch())


# Couples


def _couple_size(sketch: Sketch, couple: Couple, typed: Typed) -> Couple:
    if couple.role != "known":
        message = f"The size of {couple.symbol} is to be found."
        fail("unknown", typed.where, message, "Make it known first, or type a guess.")
    value = typed.maybe("couple")
    if value is not None and value < 0.0:
        typed.note = typed.note or "A negative size: the couple was turned round."
        return replace(couple, couple_n_m=-value, counterclockwise=not couple.counterclockwise)
    return replace(couple, couple_n_m=value)


def _sense(sketch: Sketch, couple: Couple, typed: Typed) -> Couple:
    return replace(couple, counterclockwise=typed.switch())


def _couple_role(sketch: Sketch, couple: Couple, typed: Typed) -> Couple:
    if typed.choice(("known", "couple")) == "couple":
        return replace(couple, role="unknown", couple_n_m=None)
    if couple.role == "known":
        return couple
    held = couple.guess
    known = replace(couple, role="known", guess=None)
    if held is None:
        return known
    return replace(known, couple_n_m=abs(held.couple_n_m), counterclockwise=held.couple_n_m >= 0.0)


_CHANGES: dict[tuple[type, str], Callable[[Sketch, Any, Typed], Attached]] = {
    (Support, "towards_x"): lambda sketch, support, typed: _towards(sketch, support, typed, 0),
    (Support, "towards_y"): lambda sketch, support, typed: _towards(sketch, support, typed, 1),
    (Support, "over_x"): lambda sketch, support, typed: _over_part(sketch, support, typed, 0),
    (Support, "over_y"): lambda sketch, support, typed: _over_part(sketch, support, typed, 1),
    (Support, "other"): _other,
    (Support, "over"): _over,
    (Support, "normal"): _normal,
    (Support, "two_way"): _two_way,
    (Support, "couple_symbol"): _couple_symbol,
    (Support, "kind"): _kind,
    (Force, "size"): _size,
    (Force, "angle"): _angle,
    (Force, "fx"): lambda sketch, force, typed: _part(sketch, force, typed, 0),
    (Force, "fy"): lambda sketch, force, typed: _part(sketch, force, typed, 1),
    (Force, "role"): _role,
    (Force, "type"): _type,
    (SpreadLoad, "type"): _type,
    (Force, "one_way"): _one_way,
    (Force, "head_at_point"): _head_at_point,
    (Couple, "size"): _couple_size,
    (Couple, "counterclockwise"): _sense,
    (Couple, "role"): _couple_role,
}
