"""What a document must fulfil beyond the shape of each field: ids, references, shapes of bodies, consistency."""

from __future__ import annotations

from ..errors import SteelyardError
from ..model import Body, Couple, Force, NamedPoint, Sketch, SpreadLoad, Support, Thing
from .bodies import check_body, check_piece, check_place
from .givens import check_givens
from .paths import number_at
from .supports import check_contact, check_joint, check_support, refuse
from .table import ACTING_SUFFIXES, MOST_ENTITIES, RESERVED_IDS


def check(sketch: Sketch) -> None:
    """Raise `SteelyardError` at the first thing that makes the sketch unsound; `where` is its JSON path."""
    _check_ids(sketch)
    for index, body in enumerate(sketch.bodies):
        check_body(body, f"bodies[{index}]")
    bodies = {body.id: body for body in sketch.bodies}
    for index, point in enumerate(sketch.points):
        if point.body is not None:
            _check_on_body(point, bodies, f"points[{index}]")
    for index, support in enumerate(sketch.supports):
        _check_on_body(support, bodies, f"supports[{index}]")
        check_support(support, f"supports[{index}]")
        check_contact(support, bodies, f"supports[{index}]")
        check_joint(support, bodies, f"supports[{index}]")
    for index, load in enumerate(sketch.loads):
        where = f"loads[{index}]"
        if isinstance(load, SpreadLoad):
            _check_spread(load, bodies, where)
            continue
        _check_on_body(load, bodies, where)
        if isinstance(load, Force):
            _check_role(load, load.size_n, "size_n", where)
        elif isinstance(load, Couple):
            _check_role(load, load.couple_n_m, "couple_n_m", where)
    check_givens(sketch)
    _check_half_widths(sketch)
    _check_pivot_and_pins(sketch)
    if sketch.settings.axes_along is not None and sketch.settings.axes_along not in bodies:
        message = f'`settings.axes_along` must be the id of a body: got "{sketch.settings.axes_along}".'
        raise SteelyardError("document.dangling", "settings.axes_along", message, "Leave it out for level axes.")


def acting_ids(sketch: Sketch) -> set[str]:
    """Ids of all forces and couples that can be pinned: loads, supports, weights and fixing couples."""
    found = {load.id for load in sketch.loads} | {support.id for support in sketch.supports}
    found |= {f"{body.id}-weight" for body in sketch.bodies}
    found |= {f"{support.id}-couple" for support in sketch.supports if support.kind == "fixed"}
    found |= {f"{support.id}-friction" for support in sketch.supports if support.mu is not None}
    joining = [support.id for support in sketch.supports if support.other is not None]
    pairs = {f"{support}{suffix}" for support in joining for suffix in ("", "-couple", "-friction")}
    return found | {f"{force}-back" for force in found & pairs}


def _check_ids(sketch: Sketch) -> None:
    total = len(sketch.bodies) + len(sketch.points) + len(sketch.supports) + len(sketch.loads) + len(sketch.givens)
    if total > MOST_ENTITIES:
        message = (
            f"The document must hold at most {MOST_ENTITIES} bodies, points, supports, loads and givens: got {total}."
        )
        raise SteelyardError("document.too-many", "", message, "Split it into several sketches.")
    seen: dict[str, str] = {}
    lists = (("bodies", sketch.bodies), ("points", sketch.points), ("supports", sketch.supports))
    for key, entries in (*lists, ("loads", sketch.loads), ("givens", sketch.givens)):
        for index, entry in enumerate(entries):
            where = f"{key}[{index}].id"
            if entry.id in seen:
                message = f'`{where}` must be unique: got "{entry.id}", which is also `{seen[entry.id]}`.'
                raise SteelyardError("document.duplicate-id", where, message, "Give one of the two another id.")
            if entry.id in RESERVED_IDS or entry.id.endswith(ACTING_SUFFIXES):
                message = f'`{where}` must not be a reserved word: got "{entry.id}".'
                endings = ", ".join(ACTING_SUFFIXES)
                hint = f"Not sketch, pivot, second-pivot or settings, and not ending in {endings}."
                raise SteelyardError("document.reserved-id", where, message, hint)
            seen[entry.id] = where


def _check_on_body(entry: NamedPoint | Support | Force | Couple | Thing, bodies: dict[str, Body], where: str) -> None:
    check_place(_body_of(entry.body, bodies, where), entry.place_m, f"{where}.place_m")


def _body_of(body_id: str | None, bodies: dict[str, Body], where: str) -> Body:
    if body_id is None or body_id not in bodies:
        known = ", ".join(f'"{name}"' for name in bodies) or "none yet"
        message = f'`{where}.body` must be the id of a body: got "{body_id}".'
        raise SteelyardError("document.dangling", f"{where}.body", message, f"The bodies are {known}.")
    return bodies[body_id]


def _check_spread(load: SpreadLoad, bodies: dict[str, Body], where: str) -> None:
    body = _body_of(load.body, bodies, where)
    check_place(body, load.start_m, f"{where}.start_m")
    check_place(body, load.end_m, f"{where}.end_m")
    check_piece(body, load.start_m, load.end_m, f"{where}.end_m")
    ends = (load.start_n_per_m, load.end_n_per_m)
    if load.letter_only and any(value is not None and value != 0.0 for value in ends):
        key = "start_n_per_m" if load.end_n_per_m is None else "end_n_per_m"
        hint = "Write 0, or a number at the other end too."
        refuse(f"{where}.{key}", "must be left out, or zero, beside a letter.", hint)
    start, end = load.shares
    if start * end < 0.0:
        hint = "Split it where it is zero, into two loads."
        refuse(f"{where}.end_n_per_m", f"must act the same way as at the start: got {end:g} beside {start:g}.", hint)


def _check_role(load: Force | Couple, size: float | None, key: str, where: str) -> None:
    if load.role == "unknown" and size is not None:
        hint = 'Leave it out, or write "role": "known"; a trial size belongs in `guess`.'
        refuse(f"{where}.{key}", "must be left out of an unknown: its size is to be found.", hint)
    if load.role == "known" and load.guess is not None:
        refuse(f"{where}.guess", "is only for an unknown: this one is known.", "Leave it out.")


def _check_half_widths(sketch: Sketch) -> None:
    known: dict[str, str] = {}
    for index, each in enumerate(sketch.half_widths):
        where = f"half_widths[{index}].path"
        try:
            number = number_at(sketch, each.path)
        except SteelyardError as problem:
            message = f"`{where}`: {problem.message}"
            raise SteelyardError("document.dangling", where, message, problem.hint) from None
        if number.path != each.path:
            message = f'`{where}` must name its thing by id: got "{each.path}".'
            raise SteelyardError("document.inconsistent", where, message, f'Write "{number.path}".')
        if each.path in known:
            message = f'`{where}` must be given once: got "{each.path}", which is also `{known[each.path]}`.'
            raise SteelyardError("document.duplicate-id", where, message, "Leave one of them out.")
        known[each.path] = where


def _check_pivot_and_pins(sketch: Sketch) -> None:
    for key, pivot in (("pivot", sketch.pivot), ("second_pivot", sketch.second_pivot)):
        if pivot is not None and pivot.tied_to is not None:
            ties = {entry.id for entry in (*sketch.supports, *sketch.points, *sketch.loads)}
            if pivot.tied_to not in ties:
                message = f'`{key}.tied_to` must be a support, named point or load: got "{pivot.tied_to}".'
                raise SteelyardError("document.dangling", f"{key}.tied_to", message, "Leave it out for a free pivot.")
    _check_isolated(sketch)
    acting = acting_ids(sketch)
    for key, ids in (("pinned", sketch.pinned), ("order", sketch.order), ("told", sketch.told)):
        for index, force_id in enumerate(ids):
            where = f"{key}[{index}]"
            if force_id not in acting:
                message = f'`{where}` must be the id of a force: got "{force_id}".'
                raise SteelyardError("document.dangling", where, message, "Leave it out.")
            if force_id in ids[:index]:
                message = f'`{where}` must be given once: got "{force_id}" again.'
                raise SteelyardError("document.duplicate-id", where, message, "Leave it out.")


def _check_isolated(sketch: Sketch) -> None:
    bodies = {body.id for body in sketch.bodies}
    on = {load.id: load.body for load in sketch.loads if isinstance(load, Thing)}
    for index, each in enumerate(sketch.isolated):
        where = f"isolated[{index}]"
        if each not in bodies and each not in on:
            message = f'`{where}` must be the id of a body, or of a thing on one: got "{each}".'
            raise SteelyardError("document.dangling", where, message, "Leave it out.")
        if each in sketch.isolated[:index]:
            message = f'`{where}` must be given once: got "{each}" again.'
            raise SteelyardError("document.duplicate-id", where, message, "Leave it out.")
        if each in on and on[each] not in sketch.isolated:
            refuse(where, f'is a thing on a body that is not in the system: got "{each}".', f'Add "{on[each]}".')
