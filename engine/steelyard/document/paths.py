"""Numbers of a sketch by their path: what may be measured, varied, or given a half-width.

A path is the id of the thing and the key of its field, with the place in a list in brackets: `walker.mass_kg`,
`hoist.anchor_m[0]`, `settings.g_m_s2`. Ids hold when other things are deleted, as places in the document's own lists
do not; those (`loads[0].mass_kg`) are read all the same.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Literal, NoReturn

from ..errors import SteelyardError
from ..model import Body, Couple, Load, Sketch, SpreadLoad, Support, Thing
from .bodies import ON_BODY
from .values import nearest_name

NumberKind = Literal["length", "angle", "mass", "force", "couple", "acceleration", "intensity", "number"]
Entity = Body | Support | Load

SETTINGS = "settings"
# Numbers of what stands in a list within a body: x and y of its centre, then the one that is no place. Their place is
# which entry, then which of these.
_INNER: dict[str, tuple[str, str, str]] = {
    "round_holes": ("centre_m[0]", "centre_m[1]", "radius_m"),
    "pieces": ("centre_m[0]", "centre_m[1]", "mass_kg"),
}
_SIZE = 2
_LISTED = re.compile(r"^(bodies|supports|loads)\[(\d{1,4})\]\.(.+)$")
_FIELD = re.compile(r"^([a-z_0-9]+)((?:\[\d{1,4}\])*)(\.(centre_m\[[01]\]|radius_m|mass_kg))?$")
# By the unit at the end of a field's name.
_KINDS: tuple[tuple[str, NumberKind], ...] = (
    ("g_m_s2", "acceleration"),
    ("_n_per_m", "intensity"),
    ("_n_m", "couple"),
    ("_kg", "mass"),
    ("_deg", "angle"),
    ("_m", "length"),
    ("_n", "force"),
    ("mu", "number"),
)


@dataclass(frozen=True, slots=True)
class Number:
    """One stored number: its path, what it measures, and its value in stored units. `of`: the id, "settings" for g."""

    path: str
    of: str
    key: str
    place: tuple[int, ...]
    kind: NumberKind
    value: float

    @property
    def never_negative(self) -> bool:
        """Whether it is a size: a mass, a length, the size of a force or couple, g."""
        if self.kind == "intensity":
            return self.value >= 0.0
        if self.key in _INNER:
            return self.place[1] == _SIZE
        return not self.place and self.kind != "angle"


def numbers(sketch: Sketch) -> tuple[Number, ...]:
    """Every number that reactions may hang on, in the order of the document; g last."""
    every = (*sketch.bodies, *sketch.supports, *sketch.loads)
    found = [number for entity in every for number in numbers_of(entity)]
    return (*found, gravity(sketch))


def gravity(sketch: Sketch) -> Number:
    """The acceleration of free fall, which belongs to no thing."""
    return Number(f"{SETTINGS}.g_m_s2", SETTINGS, "g_m_s2", (), "acceleration", sketch.settings.g_m_s2)


def numbers_of(entity: Entity) -> tuple[Number, ...]:
    """The numbers of one thing that reactions may hang on."""
    found = [
        Number(f"{entity.id}.{key}{_brackets(place)}", entity.id, key, place, _kind(key), value)
        for key in _keys(entity)
        for place, value in _leaves(getattr(entity, key))
    ]
    if isinstance(entity, Body):
        for key, names in _INNER.items():
            for index, inner in enumerate(getattr(entity, key)):
                for part, (name, value) in enumerate(
                    zip(names, (*inner.centre_m, getattr(inner, names[_SIZE])), strict=True)
                ):
                    path = f"{entity.id}.{key}[{index}].{name}"
                    found.append(Number(path, entity.id, key, (index, part), _kind(name.partition("[")[0]), value))
    return tuple(found)


def number_at(sketch: Sketch, path: str) -> Number:
    """The number with this path. Raises `SteelyardError` `path.unknown` that says which there are."""
    of, field = _split(sketch, path)
    if of == SETTINGS:
        found: tuple[Number, ...] = (gravity(sketch),)
    else:
        found = numbers_of(_entity(sketch, of, path))
    wanted = f"{of}.{field}"
    for number in found:
        if number.path == wanted:
            return number
    fields = [number.path.partition(".")[2] for number in found]
    near = nearest_name(field, tuple(fields))
    hint = f"Did you mean `{of}.{near}`?" if near else f"Those of `{of}` are {', '.join(fields)}."
    return _fail(path, "there is none", hint)


def words_for(sketch: Sketch, number: Number) -> str:
    """What a number is called in a sentence: "the walker's mass", "the place of T along the gangway", "g".

    The owner is a thing's or a body's name, else the letter beside it.
    """
    if number.of == SETTINGS:
        return "g"
    entity = _entity(sketch, number.of, number.path)
    if isinstance(entity, Body):
        letter, owner = "", f"the {entity.name}"
    else:
        letter = entity.symbol
        owner = f"the {entity.name}" if isinstance(entity, Thing) and entity.name else letter
    axis = f", {'xy'[number.place[-1]]}" if number.place and number.key not in _INNER else ""
    match number.key:
        case "mass_kg" | "weight_n":
            return f"{owner}'s {'mass' if number.key == 'mass_kg' else 'weight'}"
        case "length_m" | "angle_deg" | "radius_m":
            return f"{owner}'s {number.key.partition('_')[0]}"
        case "round_holes" | "pieces":
            which, part = number.place
            called, size = ("round hole", "radius") if number.key == "round_holes" else ("piece", "mass")
            said = size if part == _SIZE else f"centre, {'xy'[part]}"
            return f"{owner}'s {called} {which + 1}, {said}"
        case "origin_m" | "centre_m":
            return f"{owner}'s {'origin' if number.key == 'origin_m' else 'centre of mass'}{axis}"
        case "points_m" | "holes_m":
            what = "corner" if number.key == "points_m" else f"hole {number.place[0] + 1}, corner"
            return f"{owner}'s {what} {number.place[-2] + 1}{axis}"
        case "place_m":
            return f"the place of {owner}{_along(sketch, entity, number.place[0], axis)}"
        case "start_m" | "end_m":
            return f"the {number.key.removesuffix('_m')} of {owner}{_along(sketch, entity, number.place[0], axis)}"
        case "start_n_per_m" | "end_n_per_m":
            return f"{owner}'s load per length at its {number.key.partition('_')[0]}"
        case "anchor_m":
            return f"the far end of {letter}{axis}"
        case "over_m":
            return f"the pulley of {letter}{axis}"
        case "face_m":
            return f"the end of the face of {letter}{axis}"
        case "mu":
            return f"the friction coefficient at {letter}"
        case "normal_deg" | "direction_deg":
            return f"the direction of {owner}"
    return f"the size of {owner}"


def _along(sketch: Sketch, entity: Entity | None, part: int, axis: str) -> str:
    """Which way a place on a body is measured: along a bar, else by its axis."""
    bar = any(body.id == getattr(entity, "body", "") and body.kind == "bar" for body in sketch.bodies)
    return (" along the bar", " off the bar")[part] if bar else axis


def with_number(sketch: Sketch, number: Number, value: float) -> Sketch:
    """The sketch with another value in the place of a number it has; nothing is checked.

    What is on the rim of a disc stays on it when its radius changes.
    """
    if number.of == SETTINGS:
        return replace(sketch, settings=replace(sketch.settings, g_m_s2=value))
    for kind in ("bodies", "supports", "loads"):
        entries: tuple[Any, ...] = getattr(sketch, kind)
        for index, entity in enumerate(entries):
            if entity.id == number.of:
                held = getattr(entity, number.key)
                put = _with_inner(held, number, value) if number.key in _INNER else _put(held, number.place, value)
                changed: dict[str, Any] = {number.key: put}
                new = replace(entity, **changed)
                every: dict[str, Any] = {kind: (*entries[:index], new, *entries[index + 1 :])}
                changed_sketch = replace(sketch, **every)
                if number.key == "radius_m" and number.value > 0.0:
                    return _rims_kept(changed_sketch, number, value / number.value)
                return changed_sketch
    return _fail(number.path, "there is none", "It has been deleted.")


def _rims_kept(sketch: Sketch, radius: Number, factor: float) -> Sketch:
    """Places on the rim of a disc whose radius has changed by a factor, on the new rim."""

    def kept(entity: Any) -> Any:
        if entity.body != radius.of or not hasattr(entity, "place_m") or isinstance(entity, SpreadLoad):
            return entity
        x, y = entity.place_m
        if abs(math.hypot(x, y) - radius.value) > ON_BODY * radius.value:
            return entity
        return replace(entity, place_m=(x * factor, y * factor))

    return replace(
        sketch,
        supports=tuple(map(kept, sketch.supports)),
        loads=tuple(map(kept, sketch.loads)),
        points=tuple(map(kept, sketch.points)),
    )


def _with_inner(entries: tuple[Any, ...], number: Number, value: float) -> tuple[Any, ...]:
    """The round holes or pieces with one number of one of them changed."""
    index, part = number.place
    entry = entries[index]
    if part == _SIZE:
        size: dict[str, Any] = {_INNER[number.key][_SIZE]: value}
        changed = replace(entry, **size)
    else:
        x, y = entry.centre_m
        changed = replace(entry, centre_m=(value, y) if part == 0 else (x, value))
    return (*entries[:index], changed, *entries[index + 1 :])


def _fail(path: str, got: str, hint: str) -> NoReturn:
    message = f"`{path[:80]}` must be the path of a number that the balance may hang on: {got}."
    raise SteelyardError("path.unknown", path, message, hint)


def _split(sketch: Sketch, path: str) -> tuple[str, str]:
    """The id and the rest; a place in one of the document's lists becomes the id that stands there."""
    listed = _LISTED.match(path)
    if listed is not None:
        entries: tuple[Any, ...] = getattr(sketch, listed[1])
        index = int(listed[2])
        if index >= len(entries):
            _fail(path, f"`{listed[1]}` has {len(entries)}", "They are counted from 0.")
        return entries[index].id, listed[3]
    of, _, field = path.partition(".")
    if not _FIELD.match(field):
        _fail(path, "it is not written as one", "Write an id, a point and a field, such as walker.mass_kg.")
    return of, field


def _entity(sketch: Sketch, of: str, path: str) -> Entity:
    every: tuple[Entity, ...] = (*sketch.bodies, *sketch.supports, *sketch.loads)
    for entity in every:
        if entity.id == of:
            return entity
    ids = (*(entity.id for entity in every), SETTINGS)
    near = nearest_name(of, ids)
    return _fail(
        path, f'nothing is called "{of[:40]}"', f"Did you mean `{near}`?" if near else f"There are {', '.join(ids)}."
    )


def _keys(entity: Entity) -> tuple[str, ...]:
    """The fields of a thing that hold numbers of the balance, as far as its kind and role use them."""
    if isinstance(entity, Body):
        shape = {"bar": ("length_m",), "disc": ("radius_m",)}.get(entity.kind, ("points_m", "holes_m"))
        return ("origin_m", "angle_deg", *shape, "mass_kg", "weight_n", "centre_m")
    if isinstance(entity, Support):
        along = {"roller": ("normal_deg",), "rope": ("anchor_m", "over_m"), "strut": ("anchor_m",)}
        touching = ("normal_deg", "mu") if entity.face_m is None else ("face_m", "mu")
        return ("place_m", *(touching if entity.kind == "contact" else along.get(entity.kind, ())))
    if isinstance(entity, Thing):
        return ("place_m", "mass_kg")
    if isinstance(entity, Couple):
        return ("couple_n_m",)
    if isinstance(entity, SpreadLoad):
        turned = ("direction_deg",) if entity.acts == "angle" else ()
        return ("start_m", "end_m", "start_n_per_m", "end_n_per_m", *turned)
    lined = entity.role == "known" or entity.sought == "size"
    return ("place_m", "size_n", *(("direction_deg",) if lined else ()))


def _kind(key: str) -> NumberKind:
    return next(kind for ending, kind in _KINDS if key.endswith(ending))


def _leaves(value: object, place: tuple[int, ...] = ()) -> Iterator[tuple[tuple[int, ...], float]]:
    if isinstance(value, tuple):
        for index, entry in enumerate(value):
            yield from _leaves(entry, (*place, index))
    elif isinstance(value, int | float):
        yield place, float(value)


def _brackets(place: tuple[int, ...]) -> str:
    return "".join(f"[{index}]" for index in place)


def _put(held: Any, place: tuple[int, ...], value: float) -> Any:
    if not place:
        return value
    index = place[0]
    return (*held[:index], _put(held[index], place[1:], value), *held[index + 1 :])
