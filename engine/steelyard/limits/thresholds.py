"""Limits: every value of one number, in an interval, at which what statics says of a body changes.

A three-unknown body is judged by smooth functions: the determinant of its columns, whose roots are where it is free
to move, and the numerators of Cramer's rule, whose roots are where a reaction is zero; neither has poles. Any other
body is judged by its verdict itself, bisected between samples, by how far it is from losing its hold, and by what is
left over of its sums.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial
from itertools import pairwise

from .. import linear
from ..model import Sketch
from ..program import ROUNDING_TOLERANCE
from ..statics import giving_way, joined
from ..statics.reading import ActingForce, SupportsVerdict
from ..statics.verdict import cannot
from .bound_limits import is_rounding, of_bounds
from .changes import Change, ChangeKind, Limits, Stretch
from .joined_scan import scanned
from .roots import NARROW, roots
from .scan import SAMPLES, Scan

# Two changes closer than this part of the interval are one.
TOGETHER = 1e-9
# How far beyond a limit the growth of what goes wrong is measured, of the interval: its own bend then moves the limit
# by a tenth of `TOGETHER` where it doubles over the interval.
GROWING = 1e-5
# About a single value, the verdict's own tolerances may reach this part of the interval.
BLURRED = 1e-6


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
    found += of_bounds(scan) if scan.square else _of_verdicts(scan)
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
        if not all(map(math.isfinite, values)) or is_rounding(scan, values):
            continue
        kind: ChangeKind = "zero" if not one_way else "slack" if force.type == "tension" else "lifts"
        for value in roots(function, scan.places, values):
            if scan.square and scan.loses_hold(value):
                continue  # all numerators may vanish with the determinant: said once, as its own change
            which = part if part in ("x", "y") else ""
            found.append(Change(value, kind, force.id, which, _zero_sentence(scan, index, value, kind)))
    return found


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
            how = giving_way.nothing_keeps(there.ways, forces, scan.sketch.settings)
            kind = _kind_of(force, there)
            if how and kind in ("slips", "tips"):
                sentence = f"It just holds here. {side[0].upper()}{side[1:]} {how[0].lower()}{how[1:]}"
            else:
                reason = cannot(scan.sketch, force)
                sentence = f"{force.symbol} reaches its end here: {side} no balance is left, for {reason}."
                sentence += f" {how}" if how else ""
            return Change(at, kind, force.id, "", sentence)
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
