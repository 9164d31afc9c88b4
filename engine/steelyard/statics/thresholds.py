"""Limits: every value of one number, in an interval, at which what statics says of a body changes.

A three-unknown body is judged by smooth functions: the determinant of its columns, whose roots are where it is free
to move, and the numerators of Cramer's rule, whose roots are where a reaction is zero; neither has poles. Any other
body is judged by its verdict itself, bisected between samples, by how far it is from losing its hold, and by what is
left over of its sums.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from typing import Literal

from .. import linear
from ..document.paths import Number
from ..model import Sketch
from . import giving_way, joined
from .failing import pressed_end
from .joined_scan import scanned
from .reading import ActingForce, SupportsVerdict
from .roots import NARROW, Function, roots
from .scan import SAMPLES, Scan
from .system import ROUNDING_TOLERANCE
from .verdict import cannot

# Two changes closer than this part of the interval are one.
TOGETHER = 1e-9
# How far beyond a limit the growth of what goes wrong is measured, of the interval: its own bend then moves the limit
# by a tenth of `TOGETHER` where it doubles over the interval.
GROWING = 1e-5
# About a single value, the verdict's own tolerances may reach this part of the interval.
BLURRED = 1e-6

ChangeKind = Literal["slack", "lifts", "slips", "tips", "zero", "free", "balance", "verdict"]


@dataclass(frozen=True, slots=True)
class Change:
    """One value at which something changes, and what.

    slack: a rope's pull comes to zero. lifts: a one-way push does. slips: friction reaches μ times its normal. tips: a
    normal reaches an end of its face. zero: a force that may act both ways passes zero.
    free: the supports stop holding, at this value alone or beyond it. balance: only here do the forces balance.
    verdict: any other change of what statics can tell. `force` is the one concerned, "" when none is; `part` "x" or
    "y" of a force of unknown direction.
    """

    value: float
    kind: ChangeKind
    force: str
    part: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Stretch:
    """Between two changes: whether the supports hold the body in balance there, and the verdict's sentence."""

    start: float
    end: float
    holds: bool
    sentence: str


@dataclass(frozen=True, slots=True)
class Limits:
    """The changes of one number between two ends, ascending, and the stretches between them."""

    number: Number
    low: float
    high: float
    changes: tuple[Change, ...]
    stretches: tuple[Stretch, ...]

    @property
    def safe(self) -> tuple[tuple[float, float], ...]:
        """The intervals in which the body is held in balance; a reaction that only turns round parts none of them."""
        lost = {change.value for change in self.changes if change.kind in ("free", "verdict")}
        joined: list[tuple[float, float]] = []
        for stretch in self.stretches:
            if stretch.holds and joined and joined[-1][1] == stretch.start and stretch.start not in lost:
                joined[-1] = (joined[-1][0], stretch.end)
            elif stretch.holds:
                joined.append((stretch.start, stretch.end))
        return tuple(joined)


def limits(
    sketch: Sketch, path: str, low: float, high: float,
    *, body_id: str | None = None, bodies: Sequence[str] | None = None,
) -> Limits:  # fmt: skip
    """Every change of one number from `low` to `high` (stored units), to 1e-9 of the interval.

    Of the system that `analyse` would choose; what it is joined to counts as well, and the number may be any of that.
    Raises `SteelyardError`: `path.unknown` for no such number, `limits.interval` for an interval that is none, and
    what `document.check` says when the sketch is unsound at one of its ends.
    """
    scan = scanned(sketch, path, low, high, joined.system_ids(sketch, body_id, bodies))
    found = _of_forces(scan)
    found += _of_bounds(scan) if scan.square else _of_verdicts(scan)
    found += _of_hold(scan)
    found += _of_balance(scan)
    changes = _apart(found, high - low)
    ends = [low, *(change.value for change in changes), high]
    stretches = [_stretch(scan, start, end) for start, end in pairwise(ends) if end - start > TOGETHER * (high - low)]
    return Limits(scan.number, low, high, tuple(changes), tuple(stretches))


def where(
    sketch: Sketch, path: str, low: float, high: float, force: str, value: float = 0.0, part: str = "",
    *, body_id: str | None = None, bodies: Sequence[str] | None = None,
) -> tuple[float, ...]:  # fmt: skip
    """All values of one number between two ends for which a reaction has a given value (N or N·m), ascending.

    `part` is "x" or "y" of a force of unknown direction, "" for its size, for the signed size of a force on a known
    line, and for a couple; "place" asks how far (m) from the middle of its face a normal acts, towards the far end, and
    "use" how much of its limit friction or that place uses (1 is all), where these have one answer. Raises the same as
    `limits`, and `limits.force` when it is no unknown here.
    """
    scan = scanned(sketch, path, low, high, joined.system_ids(sketch, body_id, bodies))
    found = scan.crossings(scan.excess(force, part, value))
    return tuple(place for place in found if not (scan.square and scan.loses_hold(place)))


_KINDS = ("free", "balance", "slack", "lifts", "slips", "tips", "zero", "verdict")
_RANK = {kind: rank for rank, kind in enumerate(_KINDS)}


def _apart(found: Sequence[Change], span: float) -> list[Change]:
    """The changes in order, each said once.

    At a single value where hold is lost or balance found, the verdict differs over the width of its tolerance: that is
    the same change seen from both sides.
    """
    single = [each.value for each in found if each.kind in ("free", "balance")]
    kept: list[Change] = []
    for change in sorted(found, key=lambda each: (_RANK[each.kind], each.value)):
        if change.kind == "verdict" and any(abs(change.value - value) <= BLURRED * span for value in single):
            continue
        near = [each for each in kept if abs(change.value - each.value) <= TOGETHER * span]
        about = (change.force, change.part)
        if all(each.force and change.force and (each.force, each.part) != about for each in near):
            kept.append(change)
    return sorted(kept, key=lambda each: (each.value, _RANK[each.kind]))


def _of_forces(scan: Scan) -> list[Change]:
    """Where a reaction comes to zero."""
    if scan.lettered:
        return []
    found = []
    for index, (force, part, one_way) in enumerate(scan.unknowns()):
        if not scan.concerns(index) or part == "place":
            continue
        function = partial(scan.excess_of_one, index, 0.0)
        values = [function(place) for place in scan.places]
        if not all(map(math.isfinite, values)) or _is_rounding(scan, values):
            continue
        kind: ChangeKind = "zero" if not one_way else "slack" if force.type == "tension" else "lifts"
        for value in roots(function, scan.places, values):
            if scan.square and scan.loses_hold(value):
                continue  # all numerators may vanish with the determinant: said once, as its own change
            which = part if part in ("x", "y") else ""
            found.append(Change(value, kind, force.id, which, _zero_sentence(scan, index, value, kind)))
    return found


def _is_rounding(scan: Scan, values: Sequence[float]) -> bool:
    scale = max(map(scan.scale_n, scan.places[:: SAMPLES // 8]))
    return max(map(abs, values)) <= ROUNDING_TOLERANCE * scale


def _zero_sentence(scan: Scan, index: int, value: float, kind: ChangeKind) -> str:
    force, part, _ = scan.unknowns()[index]
    step = 1e-6 * scan.span
    signs = []
    for place in (value - step, value + step):
        number = scan.value(index, min(scan.high, max(scan.low, place)))
        signs.append(0 if not number else 1 if number > 0.0 else -1)
    named = f"the {part} part of {force.symbol}" if part in ("x", "y") else force.symbol
    if kind == "zero":
        turns = " and turns round" if signs[0] * signs[1] < 0 else ""
        return f"{named[0].upper()}{named[1:]} is zero here{turns}."
    side = "below this" if signs[0] < 0 else "above this" if signs[1] < 0 else ""
    what = "goes slack" if kind == "slack" else "lifts off" if force.type == "normal" else "lets go"
    owner = "The rope" if kind == "slack" else "The body" if force.type == "normal" else "The support"
    reason = cannot(scan.sketch, force)
    beyond = f"; {side} it would have to act the wrong way, and {reason}" if side else ""
    return f"{owner} {what}: {force.symbol} is zero here{beyond}."


def _of_bounds(scan: Scan) -> list[Change]:
    """Where friction reaches its limit, or a normal the end of its face, of unknowns that have one answer."""
    found: list[Change] = []
    if scan.lettered:
        return found
    unknowns = scan.unknowns()
    for number, (column, normal, _) in enumerate(scan.bounds()):
        force, part, _ = unknowns[column]
        if not scan.concerns(column):
            continue
        for sense in (1.0, -1.0):
            function = partial(scan.room, number, sense)
            values = [function(place) for place in scan.places]
            if not all(map(math.isfinite, values)) or _is_rounding(scan, values):
                continue
            for value in roots(function, scan.places, values):
                pressed = scan.value(normal, value)
                if scan.loses_hold(value) or pressed is None:
                    continue
                if pressed > ROUNDING_TOLERANCE * scan.scale_n(value):  # else it lifts off, and holds nothing
                    side = _beyond(scan, function, value)
                    kind: ChangeKind = "tips" if part == "place" else "slips"
                    found.append(
                        Change(value, kind, force.id, "", _bound_sentence(scan, force, kind, sense, side, value))
                    )
    return found


def _beyond(scan: Scan, function: Function, value: float) -> str:
    """On which side of a value a bound is not kept."""
    step = 1e-6 * scan.span
    for place, said in ((min(scan.high, value + step), "above this"), (max(scan.low, value - step), "below this")):
        if function(place) * scan.turn(place) < 0.0:
            return said
    return ""


def _bound_sentence(scan: Scan, force: ActingForce, kind: ChangeKind, sense: float, side: str, value: float) -> str:
    if kind == "tips":
        here = scan.forces(value)[force.id]
        assert here.face is not None
        end = here.face[pressed_end(here, sense)]
        doing = f"tipping over the {giving_way.end_of(here, end)} end of its face"
        start = f"{force.symbol} acts at the end of its face here"
    else:
        x, y = force.along or (0.0, 0.0)
        doing = f"slipping {giving_way.towards((0.0 - sense * x, 0.0 - sense * y))}"
        start = f"{force.symbol} is all the friction there is here"
    return f"{start}; {side} nothing keeps the {force.on} from {doing} {giving_way.at(force)}." if side else f"{start}."


def _of_hold(scan: Scan) -> list[Change]:
    """Where the supports lose their hold."""
    if scan.square:
        places = scan.crossings(scan.turn)
    elif scan.count >= scan.equations:
        places = scan.touching(scan.hold, linear.RANK_TOLERANCE)
    else:
        return []
    return [Change(place, "free", "", "", _hold_sentence(scan, place)) for place in places]


def _hold_sentence(scan: Scan, place: float) -> str:
    verdict = scan.supports(place)
    if verdict.kind == "mechanism":
        return f"The supports lose their hold here. {verdict.sentence}"
    return "The supports lose their hold here: nearby, small loads make very large reactions."


def _of_balance(scan: Scan) -> list[Change]:
    """Where a body that is free to move is in balance all the same."""
    if scan.square or scan.lettered:
        return []
    scale = max(map(scan.scale_n, scan.places))
    if not scale or _balances_throughout(scan):
        return []

    places = scan.touching(lambda place: scan.left_over(place) / scale, ROUNDING_TOLERANCE)
    return [Change(place, "balance", "", "", "Only here do the forces balance.") for place in places]


def _balances_throughout(scan: Scan) -> bool:
    return sum(scan.consistent(place) is True for place in scan.places) > SAMPLES // 2


def _of_verdicts(scan: Scan) -> list[Change]:
    """Where the verdict itself changes, bisected."""
    found = []
    for start, end in pairwise(scan.places):
        left, right = start, end
        for _ in range(8):  # more changes than these between two samples would be none to be told apart
            if scan.status(left) == scan.status(right):
                break
            inside = scan.last_same(left, right)
            if inside >= right - NARROW * scan.span:
                break
            found.append(_verdict_change(scan, inside))
            left = min(right, inside + 2.0 * NARROW * scan.span)
    return found


def _verdict_change(scan: Scan, place: float) -> Change:
    step = 1e-6 * scan.span
    before, after = (scan.supports(beside) for beside in (max(scan.low, place - step), min(scan.high, place + step)))
    failing = [each for each in after.failing if each not in before.failing]
    recovered = [each for each in before.failing if each not in after.failing]
    forces = scan.forces(place)
    for ids, side, there in ((failing, "above this", after), (recovered, "below this", before)):
        if ids:
            force = forces[ids[0]]
            at = _sharpened(scan, place, 1.0 if ids is failing else -1.0)
            how = giving_way.nothing_keeps(there.ways, forces)
            if how:
                sentence = f"It just holds here. {side[0].upper()}{side[1:]} {how[0].lower()}{how[1:]}"
            else:
                reason = cannot(scan.sketch, force)
                sentence = f"{force.symbol} reaches its end here: {side} no balance is left, for {reason}."
            return Change(at, _kind_of(force, there), force.id, "", sentence)
    return Change(place, "verdict", "", "", f"Below this: {before.sentence} Above: {after.sentence}")


def _kind_of(force: ActingForce, there: SupportsVerdict) -> ChangeKind:
    """What a force that fails does, where there is no balance."""
    if force.type == "tension":
        return "slack"
    if force.type == "friction":
        return "slips"
    return "tips" if any(lack.force == force.id and lack.kind == "place" for lack in there.lacks) else "lifts"


def _sharpened(scan: Scan, place: float, side: float) -> float:
    """Where the wrong-way part begins, told from how it grows: the verdict itself waits until it is above rounding."""
    near, far = (place + side * times * GROWING * scan.span for times in (1.0, 2.0))
    if not scan.low <= far <= scan.high:
        return place
    first, second = scan.wrongness(near), scan.wrongness(far)
    return place if second <= first else near - first * (far - near) / (second - first)


def _stretch(scan: Scan, start: float, end: float) -> Stretch:
    """What is so between two changes."""
    verdict = scan.supports(0.5 * (start + end))
    return Stretch(start, end, verdict.balanced_as_it_stands and not verdict.failing, verdict.sentence)
