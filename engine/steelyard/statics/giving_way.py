"""The words for what supports lack, for the ways in which they fail, and for an impending motion set by hand."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from ..geometry import Point, Vector
from ..model import Settings
from ..units import write_exact, write_quantity
from .reading import ActingForce, ForceReading, Lack, Mode, Way
from .system import Answer

# A direction is said as level or upright when it is within ten degrees of it.
_NEARLY = math.sin(math.radians(10.0))
# So many ways to fail are named; more would be a list nobody reads.
_MOST_WAYS = 3


_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def number_word(count: int) -> str:
    """A small count in letters."""
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def listed(names: Sequence[str], last: str = "and") -> str:
    """ "a", "a and b", "a, b and c"."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} {last} {names[-1]}"


def towards(way: Vector, settings: Settings) -> str:
    """Which way something slips: "to the left", "down", "up and to the right"; seen from above, up is up the page."""
    x, y = way
    parts = []
    if abs(y) > _NEARLY:
        page = " the page" if settings.seen_from == "above" else ""
        parts.append(f"{'up' if y > 0.0 else 'down'}{page}")
    if abs(x) > _NEARLY:
        parts.append("to the right" if x > 0.0 else "to the left")
    return " and ".join(parts)


def at(force: ActingForce) -> str:
    """Where a support touches: "at the quay", or "where N acts" where nobody named it."""
    return f"at the {force.by}" if force.by else f"where {force.symbol} acts"


def end_of(force: ActingForce, end: Point) -> str:
    """Which end of its face, seen on the page: "right", "lower"."""
    assert force.face is not None
    other = force.face[0] if end == force.face[1] else force.face[1]
    x, y = end[0] - other[0], end[1] - other[1]
    if abs(x) >= abs(y):
        return "right" if x > 0.0 else "left"
    return "upper" if y > 0.0 else "lower"


def lacking(lack: Lack, force: ActingForce, settings: Settings) -> str:
    """What a balance would need of a force and what there is; "" for one that would have to act backwards."""
    if lack.kind == "friction":
        needed, there = (write_quantity(size, "force", settings) for size in (lack.needed, lack.there))
        share = write_exact(force.mu or 0.0, "number", settings)
        return f"{force.symbol} would have to be {needed} where {share} times the normal force is {there}"
    if lack.kind == "place":
        if math.isinf(lack.needed):
            return f"{force.symbol} would have to act beyond its face"
        needed, there = (write_quantity(size, "length", settings) for size in (lack.needed, lack.there))
        return f"{force.symbol} would have to act {needed} from the middle of its face where that ends at {there}"
    return ""


def nothing_keeps(ways: Sequence[Way], forces: Mapping[str, ActingForce], settings: Settings) -> str:
    """How the supports fail, in one sentence; "" when no way is known, or a rope goes slack and nothing else."""
    worth = [way for way in ways if any(mode.moves and mode.kind != "goes slack" for mode in way.modes)]
    told = list(dict.fromkeys(_from(way, forces, settings) for way in worth[:_MOST_WAYS]))
    if not told:
        return ""
    which = ": which of these starts, only letting go can tell" if len(told) > 1 else ""
    subject, first = told[0]
    rest = [f"from {doing}" if whose == subject else f"the {whose} from {doing}" for whose, doing in told[1:]]
    return f"Nothing keeps {listed([f'the {subject} from {first}', *rest], 'or')}{which}."


def _from(way: Way, forces: Mapping[str, ActingForce], settings: Settings) -> tuple[str, str]:
    """Whom nothing keeps from doing what."""
    moving = [mode for mode in way.modes if mode.moves]
    subject = forces[moving[0].force].on or "body"
    parts: list[str] = []
    slips = [mode for mode in moving if mode.kind == "slips"]
    if slips:
        where = [f"{towards(mode.way, settings)} {at(forces[mode.force])}" for mode in slips]
        parts.append(f"slipping {listed(where)}")
    lifts = [at(forces[mode.force]) for mode in moving if mode.kind == "lifts off"]
    if lifts:
        parts.append(f"lifting off {listed(list(dict.fromkeys(lifts)))}")
    parts += [_doing(mode, forces[mode.force], settings) for mode in moving if mode.kind not in ("slips", "lifts off")]
    about = next((mode for mode in way.modes if mode.kind == "holds"), None)
    if about is not None and not slips and any(mode.kind == "lifts off" for mode in moving):
        held = forces[about.force]
        if held.type == "normal":
            parts.append("tipping over the point " + (f"on the {held.by}" if held.by else f"where {held.symbol} acts"))
    return subject, listed(parts)


def _doing(mode: Mode, force: ActingForce, settings: Settings) -> str:
    if mode.kind == "goes slack":
        return f"letting {force.symbol} go slack"
    assert mode.end is not None
    over = f"over the {end_of(force, mode.end)} end of its face"
    if mode.kind == "slips and tips":
        return f"slipping {towards(mode.way, settings)} {at(force)} while tipping {over}"
    return f"tipping {over} {at(force)}"


def about_to(readings: Sequence[ForceReading], settings: Settings) -> str:
    """The impending motions set by hand: "the crate about to slip to the left at the deck"; "" without one."""
    found = []
    for reading in readings:
        force = reading.force
        about = force.about_to
        if about.startswith("slip") and force.type == "friction" and force.along is not None:
            way = (0.0 - force.along[0], 0.0 - force.along[1])
            found.append(f"the {force.on} about to slip {towards(way, settings)} {at(force)}")
        elif about.startswith("tip") and force.type == "normal" and force.face is not None:
            over = end_of(force, force.face[1 if about == "tip" else 0])
            found.append(f"the {force.on} about to tip over the {over} end of its face {at(force)}")
        elif about == "lift" and force.type == "normal":
            found.append(f"the {force.on} about to lift off {at(force)}")
        elif about == "slack":
            found.append(f"{force.symbol} about to go slack")
    return listed(found) if found else ""


def some_loads(by_hand: str, count: int, answers: Answer, stuck: str) -> str:
    """An impending motion that leaves fewer unknowns than equations: it fits some loads only."""
    sentence = f"With {by_hand}, {number_word(count)} unknown{'s are' if count > 1 else ' is'} left for three equations"
    if answers.consistent is None:
        return f"{sentence}: only some loads fit that."
    if answers.consistent and not answers.wrong_way and not answers.beyond:
        return f"{sentence}, and these loads fit it: balanced, and just so."
    if answers.consistent:
        return f"{sentence}.{stuck}"
    return f"{sentence}, and these loads do not fit it: it is not about to do that."


def just_holds(readings: Sequence[ForceReading], limit: Sequence[str]) -> str:
    """That something is at its limit."""
    said = []
    for reading in readings:
        force = reading.force
        if force.id in limit:
            what = "is all the friction there is" if force.type == "friction" else "acts at the end of its face"
            said.append(f"{force.symbol} {what}")
    return f" It just holds: {listed(said)}." if said else ""
