"""The system that is looked at: which bodies are taken as one, and what else could be."""

from __future__ import annotations

from ..model import Sketch, Thing
from ..statics.reading import Analysis
from .item import Item, action
from .words import BODY_WORDS

Data = dict[str, object]


def system(sketch: Sketch, analysis: Analysis | None) -> Data | None:
    """`{title, names, several, follows, choices, whole}`; None where there is only one body and nothing taken along.

    `title` says what is isolated, `names` only of what it consists, `several` that it is taken as one; `follows`:
    it is the body of whatever is selected. Each of `choices` is `{id, name, kind, on, ids}` with the ids of the
    system once it is pressed; `whole` are those of everything.
    """
    if analysis is None or (len(sketch.bodies) < 2 and not sketch.isolated):
        return None
    taken = set(analysis.system)
    choices: list[Data] = []
    for body in sketch.bodies:
        choices.append(_choice(sketch, taken, body.id, name_of(sketch, body.id), "body"))
        choices += [
            _choice(sketch, taken, load.id, load.name or load.symbol, "thing")
            for load in sketch.loads
            if isinstance(load, Thing) and load.body == body.id
        ]
    return {
        "title": title(sketch, analysis),
        "names": _names(sketch, analysis),
        "several": len(analysis.system) > 1,
        "follows": not sketch.isolated,
        "choices": choices,
        "whole": [body.id for body in sketch.bodies],
    }


def _choice(sketch: Sketch, taken: set[str], thing_id: str, name: str, kind: str) -> Data:
    return {
        "id": thing_id,
        "name": name,
        "kind": kind,
        "on": thing_id in taken,
        "ids": toggled(sketch, taken, thing_id),
    }


def toggled(sketch: Sketch, taken: set[str], pressed: str) -> list[str]:
    """The ids of the system with one more, or one less; a thing comes with its body and goes with it."""
    on = {load.id: load.body for load in sketch.loads if isinstance(load, Thing)}
    after = taken - {pressed} if pressed in taken else taken | {pressed} | {on.get(pressed, pressed)}
    return sorted(each for each in after if on.get(each, each) in after)


def name_of(sketch: Sketch, thing_id: str) -> str:
    """What a body, or a thing on one, is called."""
    for body in sketch.bodies:
        if body.id == thing_id:
            return body.name or BODY_WORDS[body.kind]
    return next(
        (load.name or load.symbol for load in sketch.loads if isinstance(load, Thing) and load.id == thing_id), ""
    )


def title(sketch: Sketch, analysis: Analysis) -> str:
    """ "Gangway", "Gangway and trestle taken as one", "All four bodies taken as one"."""
    return f"{_names(sketch, analysis)}{' taken as one' if len(analysis.system) > 1 else ''}"


def _names(sketch: Sketch, analysis: Analysis) -> str:
    names = [name_of(sketch, each) for each in analysis.system]
    if len(names) == 1:
        words = names[0]
    elif len(analysis.bodies) == len(names) == len(sketch.bodies) and len(names) > 2:
        words = f"all {_count(len(names))} bodies"
    elif len(names) > 4:
        words = f"{_count(len(analysis.bodies))} bodies"
    else:
        words = f"{', '.join(names[:-1])} and {names[-1]}"
    return words[:1].upper() + words[1:]


_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def _count(number: int) -> str:
    return _COUNTS[number] if number < len(_COUNTS) else str(number)


def isolate_actions(sketch: Sketch, thing_id: str) -> list[Item]:
    """Buttons in the fields of a body, or of a thing on one, that take it as the system, into it or out of it."""
    thing = next((load for load in sketch.loads if isinstance(load, Thing) and load.id == thing_id), None)
    now = set(sketch.isolated)
    if thing is not None:
        base = now or {thing.body}
        if thing_id in now:
            rest = [] if len(sketch.bodies) == 1 and len(now) == 2 else sorted(now - {thing_id})
            return [action("isolate-out", "Take it out of the system", "isolate", {"ids": rest})]
        if thing.body not in base:
            return []
        return [action("isolate-in", "Take it into the system", "isolate", {"ids": sorted(base | {thing_id})})]
    if len(sketch.bodies) < 2:
        return []
    found = []
    if now != {thing_id}:
        found.append(action("isolate", "Isolate this", "isolate", {"ids": [thing_id]}))
    if now and thing_id not in now:
        found.append(action("isolate-in", "Add to the system", "isolate", {"ids": toggled(sketch, now, thing_id)}))
    if len(now) > 1 and thing_id in now:
        rest = toggled(sketch, now, thing_id)
        found.append(action("isolate-out", "Take it out of the system", "isolate", {"ids": rest}))
    if now:
        found.append(action("isolate-follow", "Isolate what is selected", "isolate", {"ids": []}))
    return found
