"""Commands: one undo step each, from a sketch to a sketch. Whatever is wrong raises, and nothing has changed."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from .. import document
from ..document.values import nearest_name
from ..geometry import Point, distance
from ..model import Body, NamedPoint, Pivot, Sketch
from ..statics.pivot import pivot_point
from . import grips, guessing, naming, spreading, usual
from .change import Change, entities, fail, find, find_given, name_of, put, remove
from .circles import without_round_hole
from .context import Context, named_spots
from .copying import duplicate, duplicate_given
from .gestures import Gesture
from .given_hold import GivenHold
from .given_placing import GIVEN_TOOLS, GivenPlacing, usual_given
from .isolating import isolated
from .joining import settle, went_along
from .moving import move_pivot
from .ordering import with_order
from .pieces import new_piece, without_piece
from .placing import Placing
from .set_attached import set_attached
from .set_body import set_body
from .set_given import set_given
from .set_half_width import HALF_WIDTH, set_half_width
from .set_number import NUMBER, set_number
from .set_sketch import set_pivot, set_setting, set_sketch
from .shaping import place_on
from .typed import Typed

Args = dict[str, Any]

__all__ = ["NAMES", "Change", "apply"]

# Where a new thing goes when nothing is said about the view.
_CENTRE_M, _WIDTH_M = (3.0, 0.5), 8.0
_FARTHEST = 1e12
# Settings whose key does not read as words in an undo entry.
_SETTING_WORDS = {"g_m_s2": "g", "axes_deg": "axes", "axes_along": "axes"}


def apply(sketch: Sketch, name: str, args: Args) -> Change:
    """The sketch after one command.

    `add {tool, at?, to?, selected?, centre_m?, width_m?, newtons_per_m?, beside_forces?}`; `set {id, key, text}`
    (also for the ids "sketch", "pivot", "second-pivot" and "settings"); `settings {key, text}`;
    `title {title?, question?}`; `delete {id, hole?, piece?}`; `piece {id}`; `duplicate {id}`;
    `move {id, grip, by}`; `pin {id, on}`; `resultant {id}`; `guess {id, on}`; `isolate {ids}`; `tell {id, on}`;
    `turn {id, share?}`; `stretch {id, closes, share?}`; `point {body?, at}`; `pivot {at}`;
    `second-pivot {on?, at?}`. Raises `SteelyardError`.
    """
    command = _COMMANDS.get(name)
    if command is None:
        near = nearest_name(name, NAMES)
        hint = f'Did you mean "{near}"?' if near else f"The commands are {', '.join(NAMES)}."
        fail("command", "name", f'There is no command called "{name[:40]}".', hint)
    change = command(sketch, args)
    change = replace(change, sketch=settle(sketch, change.sketch))
    return change if change.note or name != "set" else replace(change, note=_followed(sketch, change.sketch, args))


def _followed(before: Sketch, after: Sketch, args: Args) -> str:
    """What is said where a typed number has moved other bodies too."""
    own = next((each for each in entities(before) if each.id == args.get("id")), None)
    names = went_along(before, after, own.id if isinstance(own, Body) else None if own is None else own.body)
    return "" if not names else f"{' and '.join(names)} went along, so that the joints stay together."


def _text(args: Args, key: str) -> str:
    value = args.get(key)
    if not isinstance(value, str):
        fail("args", key, f"`{key}` must be text: got {_shown(value)}.", "Send it as text.")
    if len(value) > 2000:
        fail("args", key, f"`{key}` must have at most 2000 characters: got {len(value)}.", "Shorten it.")
    return value


def _shown(value: object) -> str:
    return "nothing" if value is None else f"a {type(value).__name__}"


def _on(args: Args) -> bool:
    value = args.get("on", True)
    if not isinstance(value, bool):
        fail("args", "on", f"`on` must be true or false: got {_shown(value)}.", "Send one of them.")
    return value


def _number(args: Args, key: str, usual_value: float) -> float:
    value = args.get(key, usual_value)
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0.0 < value <= _FARTHEST:
        fail("args", key, f"`{key}` must be a positive number: got {_shown(value)}.", "Send a number.")
    return float(value)


def _point(args: Args, key: str) -> Point | None:
    value = args.get(key)
    if value is None:
        return None
    if isinstance(value, list | tuple) and len(value) == 2:
        parts = [part for part in value if isinstance(part, int | float) and not isinstance(part, bool)]
        if len(parts) == 2 and all(math.isfinite(part) and abs(part) <= _FARTHEST for part in parts):
            return (float(parts[0]), float(parts[1]))
    fail("args", key, f"`{key}` must be a point [x, y] in metres.", "Send two numbers.")


def _add(sketch: Sketch, args: Args) -> Change:
    tool = _text(args, "tool")
    selected = args.get("selected")
    context = Context(newtons_per_m=_number(args, "newtons_per_m", 1000.0), release_m=1e-6)
    at, to = _point(args, "at"), _point(args, "to")
    given_tool = next((each for each in GIVEN_TOOLS if each == tool), None)
    if given_tool is not None:
        beside = args.get("beside_forces") is True
        if at is not None:
            placing = GivenPlacing(sketch, given_tool, at, context, beside_forces=beside)
            return placing.at(at if to is None else to, context)
        board = replace(context, step_m=_number(args, "width_m", _WIDTH_M) / 100.0)
        chosen = selected if isinstance(selected, str) else None
        return usual_given(sketch, given_tool, chosen, board, beside_forces=beside)
    if at is not None:
        return Placing(sketch, tool, at, context).at(at if to is None else to, context)
    centre = _point(args, "centre_m") or _CENTRE_M
    width = _number(args, "width_m", _WIDTH_M)
    return usual.place(sketch, tool, centre, width, context, selected if isinstance(selected, str) else None)


def _point_added(sketch: Sketch, args: Args) -> Change:
    at = _point(args, "at") or pivot_point(sketch)
    body_id = args.get("body")
    new_id, name = naming.fresh_id(sketch, "point"), naming.point_name(sketch)
    if body_id is None:
        return Change(put(sketch, NamedPoint(new_id, name, at)), f"Name point {name}", new_id)
    body = find(sketch, _text(args, "body"))
    if not isinstance(body, Body):
        fail("args", "body", "`body` must be a body.", "Send the id of one, or nothing.")
    return Change(put(sketch, NamedPoint(new_id, name, place_on(body, at), body.id)), f"Name point {name}", new_id)


def _set(sketch: Sketch, args: Args) -> Change:
    entity_id, key = _text(args, "id"), _text(args, "key")
    typed = Typed(f"{entity_id[:40]}.{key[:40]}", _text(args, "text"), sketch.settings)
    word = _SETTING_WORDS.get(key) or key.replace("_", " ")
    if entity_id == "settings":
        return Change(set_setting(sketch, key, typed), f"Change {word}", None, typed.note)
    if entity_id == "sketch" and key.startswith(NUMBER):
        path = key.removeprefix(NUMBER)
        label = f"Change {document.words_for(sketch, document.number_at(sketch, path))}"
        number = Typed(path[:80], typed.text, sketch.settings)
        return Change(set_number(sketch, path, number), label, None, number.note)
    if entity_id == "sketch" and key.startswith(HALF_WIDTH):
        path = key.removeprefix(HALF_WIDTH)
        label = f"Half-width of {document.words_for(sketch, document.number_at(sketch, path))}"
        width = Typed(f"{path[:80]} half-width", typed.text, sketch.settings)
        return Change(set_half_width(sketch, path, width), label, None, width.note)
    if entity_id == "sketch":
        return Change(set_sketch(sketch, key, typed), f"Change {word}", None, typed.note)
    if entity_id in grips.PIVOTS:
        return Change(set_pivot(sketch, entity_id, key, typed), f"Move {_pivot_word(entity_id)}", None, typed.note)
    given = find_given(sketch, entity_id)
    if given is not None:
        return Change(set_given(sketch, given, key, typed), f"Change {word} of {given.kind}", None, typed.note)
    entity = find(sketch, entity_id)
    label = f"Change {word} of {name_of(entity)}"
    if isinstance(entity, Body):
        return Change(set_body(sketch, entity, key, typed), label, None, typed.note)
    return Change(set_attached(sketch, entity, key, typed), label, None, typed.note)


def _settings(sketch: Sketch, args: Args) -> Change:
    return _set(sketch, {**args, "id": "settings"})


def _title(sketch: Sketch, args: Args) -> Change:
    changed = sketch
    for key in ("title", "question", "caution"):
        if key in args:
            changed = set_sketch(changed, key, Typed(f"sketch.{key}", _text(args, key), sketch.settings))
    return Change(changed, "Change title")


def _answers(sketch: Sketch, args: Args) -> Change:
    value = _text(args, "answers")
    label = "Show answers" if value == "shown" else "Keep answers back"
    return Change(set_setting(sketch, "answers", Typed("answers", value, sketch.settings)), label)


def _delete(sketch: Sketch, args: Args) -> Change:
    entity_id = _text(args, "id")
    if entity_id == grips.PIVOT:
        back = Pivot(pivot_point(replace(sketch, pivot=None)), sketch.supports[0].id) if sketch.supports else None
        return Change(replace(sketch, pivot=back), "Put the pivot back")
    if entity_id == grips.SECOND_PIVOT:
        grips.pivot_place(sketch, entity_id)
        return Change(replace(sketch, second_pivot=None), "Take away the second pivot")
    given = find_given(sketch, entity_id)
    if given is not None:
        rest = tuple(each for each in sketch.givens if each.id != given.id)
        return Change(replace(sketch, givens=rest), f"Delete {given.kind}")
    entity = find(sketch, entity_id)
    if "hole" in args and isinstance(entity, Body):
        return without_round_hole(sketch, entity, round(_number(args, "hole", 1.0)) - 1)
    if "piece" in args and isinstance(entity, Body):
        return without_piece(sketch, entity, round(_number(args, "piece", 1.0)) - 1)
    if entity_id != entity.id and isinstance(entity, Body):
        without = replace(entity, mass_kg=None, weight_n=None, weight_symbol_only=False, pieces=())
        return Change(put(sketch, without), f"Neglect the weight of {entity.name}")
    return Change(remove(sketch, {entity.id}), f"Delete {name_of(entity)}")


def _piece(sketch: Sketch, args: Args) -> Change:
    body = find(sketch, _text(args, "id"))
    if not isinstance(body, Body):
        fail("args", "id", "A piece is fixed to a body.", "Send the id of one.")
    return new_piece(sketch, body)


def _duplicate(sketch: Sketch, args: Args) -> Change:
    entity_id = _text(args, "id")
    if entity_id in grips.PIVOTS:
        return _pin_second(sketch, {})
    given = find_given(sketch, entity_id)
    return duplicate(sketch, find(sketch, entity_id)) if given is None else duplicate_given(sketch, given)


def _move(sketch: Sketch, args: Args) -> Change:
    entity_id, by = _text(args, "id"), _point(args, "by") or (0.0, 0.0)
    grip = _text(args, "grip") if "grip" in args else "pivot" if entity_id in grips.PIVOTS else "body"
    context = Context(newtons_per_m=_number(args, "newtons_per_m", 1000.0))
    gesture: Gesture | GivenHold
    if find_given(sketch, entity_id) is not None:
        gesture = GivenHold(sketch, entity_id, grip, (0.0, 0.0))
    else:
        gesture = Gesture(sketch, entity_id, grip, (0.0, 0.0), context)
    gesture.at(by, context)
    if gesture.problem:
        fail("move", entity_id, gesture.problem, "Move it another way.")
    return gesture.change()


def _pivot_word(of: str) -> str:
    return of.replace("-", " ")


def _put_pivot(sketch: Sketch, args: Args) -> Change:
    """The pivot to a point of the paper; tied to what is there, as a hand would tie it."""
    at = _point(args, "at")
    if at is None:
        fail("args", "at", "`at` must be a point [x, y] in metres: got nothing.", "Send two numbers.")
    return Change(_pivot_at(sketch, at, second=False), "Move pivot", grips.PIVOT)


def _pin_second(sketch: Sketch, args: Args) -> Change:
    """Pin a second pivot, or take it away. Without a place: at the point of the sketch farthest from the pivot."""
    if not _on(args):
        return Change(replace(sketch, second_pivot=None), "Take away the second pivot")
    at = _point(args, "at") or _other_point(sketch)
    return Change(_pivot_at(sketch, at, second=True), "Pin a second pivot", grips.SECOND_PIVOT)


def _pivot_at(sketch: Sketch, at: Point, *, second: bool) -> Sketch:
    # A point worth trying is computed, a support's is stored: they are the same to within rounding.
    reach = 1e-9 * max(1.0, abs(at[0]), abs(at[1]))
    changed, _ = move_pivot(sketch, second, at, Context(catch_m=reach, release_m=reach), None)
    return changed


def _other_point(sketch: Sketch) -> Point:
    """What is farthest from the pivot of all that is on a body or has a name: the two sums differ most there."""
    home = pivot_point(sketch)
    spots = [spot.point for spot in named_spots(sketch) if spot.target]
    return max(spots, key=lambda spot: distance(spot, home), default=(home[0] + 1.0, home[1]))


def _order(sketch: Sketch, args: Args) -> Change:
    ids = args.get("ids")
    if not isinstance(ids, list | tuple) or not all(isinstance(each, str) for each in ids):
        fail("args", "ids", f"`ids` must be a list of ids: got {_shown(ids)}.", "Send the forces in their order.")
    return Change(with_order(sketch, ids), "Change the order of the forces")


def _isolate(sketch: Sketch, args: Args) -> Change:
    ids = args.get("ids")
    if not isinstance(ids, list | tuple) or not all(isinstance(each, str) for each in ids):
        fail("args", "ids", f"`ids` must be a list of ids: got {_shown(ids)}.", "Send bodies, and things on them.")
    return isolated(sketch, ids)


def _pin(sketch: Sketch, args: Args) -> Change:
    force_id = _text(args, "id")
    acting = document.acting_ids(sketch)
    if force_id not in acting:
        fail("pin", force_id, f'There is no force called "{force_id[:40]}".', "Select a force first.")
    pinned = tuple(pin for pin in sketch.pinned if pin != force_id)
    if _on(args):
        return Change(replace(sketch, pinned=(*pinned, force_id)), "Pin line and arm")
    return Change(replace(sketch, pinned=pinned), "Unpin line and arm")


def _guess(sketch: Sketch, args: Args) -> Change:
    """Start a guess beside an unknown, or drop it."""
    force_id = _text(args, "id")
    return guessing.started(sketch, force_id) if _on(args) else guessing.dropped(sketch, force_id)


def _tell(sketch: Sketch, args: Args) -> Change:
    return guessing.told(sketch, _text(args, "id"), _on(args))


def _turn(sketch: Sketch, args: Args) -> Change:
    return guessing.turned(sketch, _text(args, "id"), _share(args))


def _resultant(sketch: Sketch, args: Args) -> Change:
    return spreading.by_resultant(sketch, _text(args, "id"))


def _stretch(sketch: Sketch, args: Args) -> Change:
    return guessing.stretched(sketch, _text(args, "id"), _text(args, "closes"), _share(args))


def _share(args: Args) -> float:
    """How far on the way to where a command leads: 1 is there."""
    value = args.get("share", 1.0)
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0.0 <= value <= 1.0:
        fail("args", "share", f"`share` must be a number from 0 to 1: got {_shown(value)}.", "Send one, or nothing.")
    return float(value)


_COMMANDS: dict[str, Callable[[Sketch, Args], Change]] = {
    "add": _add,
    "answers": _answers,
    "delete": _delete,
    "duplicate": _duplicate,
    "guess": _guess,
    "isolate": _isolate,
    "move": _move,
    "order": _order,
    "piece": _piece,
    "pin": _pin,
    "pivot": _put_pivot,
    "point": _point_added,
    "resultant": _resultant,
    "second-pivot": _pin_second,
    "set": _set,
    "settings": _settings,
    "stretch": _stretch,
    "tell": _tell,
    "title": _title,
    "turn": _turn,
}
NAMES = tuple(_COMMANDS)
