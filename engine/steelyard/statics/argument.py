"""Which way an unknown must act, and what that says about a guess for it: an argument's facts, without its words.

A component is argued from one sum in which everything else acts one way whatever its size; where there
is no such sum, from sizes that are known; else it depends on sizes. No answer enters: the same facts
come out of an analysis whose answers are kept back.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from ..geometry import Point, Vector, add, dot, scale, subtract
from . import advice as advising
from . import holding
from .advice import Advice, Part
from .reading import ActingForce, Analysis, BalanceVerdict, ForceReading, SupportsVerdict, Turning
from .signs import Reason, SenseVerdict, Settled, sense_of, settle, shares_of

Verdict = Literal["certain", "numbers", "depends", "open"]

# A guess with less than this share along a component has no part there.
NO_PART = 1e-6
_RANK: dict[Verdict, int] = {"certain": 0, "numbers": 1, "depends": 2, "open": 3}
# What a guess starts with when nothing known says how large forces are here: it only has to be seen.
_USUAL_SIZE = 100.0
_NO_TURNING = Turning(None, None, None, None, None, None, False)
_NO_BALANCE = BalanceVerdict("open", "")
_NO_SUPPORTS = SupportsVerdict("none", 0, "", "", "", (), (), (), False)


@dataclass(frozen=True, slots=True)
class Judged:
    """What is certain about one component (or size, or couple) of an unknown, and whether its guess agrees.

    `sign`: +1 must act as drawn, −1 against, 0 none or not settled. `agrees` is None when nothing is settled
    or nothing guessed. `sum` is the sum argued from, `found` what it says, `shares` its terms per unit of each
    part. `found` is None where no sum is needed (a one-way force) or none serves (`shares` is empty).
    """

    part: Part
    verdict: Verdict
    sign: int
    strict: bool
    agrees: bool | None
    sum: Advice
    found: SenseVerdict | None
    shares: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Judgement:
    """All stages about one unknown in the order they are argued, and what is settled about the others."""

    force: ActingForce
    parts: Mapping[str, Part]
    stages: tuple[Judged, ...]
    settled: Mapping[str, Settled]
    reasons: Mapping[str, Reason]


def judge(analysis: Analysis, force_id: str, extra: Sequence[Point] = ()) -> Judgement:
    """What geometry and known sizes settle about one unknown; KeyError when it does not act here.

    `extra` are further points worth taking torques about (ends of the body, named points).
    """
    found = _without_guess(_bare(analysis), force_id, tuple(extra))
    force = analysis.reading(force_id).force
    if force.guess is None and force.guess_couple_n_m is None:
        return found
    stages = tuple(
        replace(stage, agrees=_agrees(force, stage.part, stage.sign))
        if stage.verdict in ("certain", "numbers")
        else stage
        for stage in found.stages
    )
    return replace(found, force=force, stages=stages)


def _bare(analysis: Analysis) -> Analysis:
    """The analysis without guesses and answers: all that an argument starts from, the same while a guess is dragged."""
    readings = tuple(
        ForceReading(
            holding.unplaced(reading.force)._replace(guess=None, guess_couple_n_m=None), None, None, None, None, False,
            (False, False), False, (False, False), _NO_TURNING, None, "",
        )
        for reading in analysis.readings
    )  # fmt: skip
    return replace(
        analysis, readings=readings, applied=None, residual=None, balance=_NO_BALANCE, supports=_NO_SUPPORTS,
        force_scale_n=0.0, torque_scale_n_m=0.0,
    )  # fmt: skip


@lru_cache(maxsize=16)
def _without_guess(analysis: Analysis, force_id: str, extra: tuple[Point, ...]) -> Judgement:
    """The judgement as it stands before anything is guessed."""
    parts = {part.key: part for part in advising.parts(analysis)}
    # Where on its face a normal acts is no guess: nothing is argued about it.
    own = [part for part in parts.values() if _is_of(part, force_id) and part.unknown and part.which != "place"]
    if not own:
        raise KeyError(force_id)
    force = analysis.reading(force_id).force
    choices = advising.candidates(analysis, extra)
    settled, reasons = settle(choices, parts, analysis.lever_m, {part.key for part in own})
    stages: list[Judged] = []
    for part in own:
        stage = _judged(analysis, force, part, own, parts, choices, settled)
        if stage.verdict == "certain":
            settled[part.key] = Settled(stage.sign, stage.strict)
        stages.append(stage)
    return Judgement(force, parts, tuple(stages), settled, reasons)


def _is_of(part: Part, force_id: str) -> bool:
    """Whether a part is of a force: of itself, or of the other end of its rope, which has the same size."""
    return part.force == force_id or (part.twin is not None and part.twin.force == force_id)


def _judged(
    analysis: Analysis, force: ActingForce, part: Part, own: Sequence[Part], parts: Mapping[str, Part],
    choices: Sequence[Advice], settled: Mapping[str, Settled],
) -> Judged:  # fmt: skip
    if part.one_way:
        each = advising.about(analysis, analysis.pivot)
        return Judged(part, "certain", 1, False, _agrees(force, part, 1), each, None, {})
    ranked: list[tuple[tuple[int, int, bool, int, int], Advice, Verdict, SenseVerdict, dict[str, float]]] = []
    for position, each in enumerate(choices):
        shares = shares_of(each, parts, analysis.lever_m)
        if part.key not in shares:
            continue
        waiting = [other.key for other in own if other.key != part.key and other.key in shares]
        if any(key not in settled for key in waiting):
            continue
        found = sense_of(part.key, shares, parts, settled)
        verdict: Verdict = found.kind
        if verdict != "certain" and all(parts[key].size is not None for key in shares if key != part.key):
            verdict = "numbers"
        # The sum along the component's own axis is the first a person looks at.
        plain = 0 if each.source == part.which else 1
        # Then one in sight, then the one that leans on the fewest other unknowns, then the fewest terms.
        far = advising.is_far(each, tuple(parts.values()), analysis.lever_m)
        leaning = sum(parts[key].unknown for key in shares)
        rank = (_RANK[verdict], plain, far, leaning, len(shares) * 100 + position)
        ranked.append((rank, each, verdict, found, shares))
    if not ranked:  # every sum with this part has the other component too: argue from its own axis as it is
        each = advising.along(analysis, analysis.x_axis if part.which == "x" else analysis.y_axis)
        return Judged(part, "open", 0, False, None, each, None, {})
    _, each, verdict, found, shares = min(ranked, key=lambda item: item[0])
    sign, strict = (found.sign, found.strict) if verdict == "certain" else (0, found.strict)
    if verdict == "numbers":
        net = -net_of_others(parts, part.key, shares) / shares[part.key]
        sign, strict = (net > 0.0) - (net < 0.0), True
    agrees = _agrees(force, part, sign) if verdict in ("certain", "numbers") else None
    return Judged(part, verdict, sign, strict, agrees, each, found, shares)


def net_of_others(parts: Mapping[str, Part], key: str, shares: Mapping[str, float]) -> float:
    """What the other terms of a sum add up to (N or N m), zero when it is rounding only; sizes must be known."""
    terms = [share * (parts[other].size or 0.0) for other, share in shares.items() if other != key]
    net = math.fsum(terms)
    return 0.0 if abs(net) <= 1e-12 * math.fsum(abs(term) for term in terms) else net


def guess_along(force: ActingForce, part: Part) -> float | None:
    """The guess's size along a part as drawn (newtons or newton metres); None without a guess."""
    if part.along is None:
        return None if force.guess_couple_n_m is None else force.guess_couple_n_m * part.turn
    if force.guess is None:
        return None
    along = dot(force.guess, part.along)
    return 0.0 if abs(along) <= NO_PART * math.hypot(*force.guess) else along


def _agrees(force: ActingForce, part: Part, sign: int) -> bool | None:
    along = guess_along(force, part)
    return None if along is None else (along > 0.0) - (along < 0.0) == sign


def turned(analysis: Analysis, judgement: Judgement) -> tuple[Vector | None, float | None]:
    """The guess (newtons; newton metres for a couple) after the first stage it does not agree with.

    That part is turned round, the size kept; a guess of no size gets one. (None, None) when nothing is left to turn.
    """
    stage = next((stage for stage in judgement.stages if stage.agrees is False), None)
    if stage is None:
        return None, None
    force, part = judgement.force, stage.part
    if part.along is None:
        couple = abs(force.guess_couple_n_m or 0.0) or _usual(analysis, couple=True)
        return None, couple * stage.sign * part.turn + 0.0
    guess = force.guess or (0.0, 0.0)
    size = math.hypot(*guess) or _usual(analysis)
    if part.which == "size":
        return scale(part.along, size * stage.sign), None
    now = dot(guess, part.along)
    rest = subtract(guess, scale(part.along, now))
    # A part not there yet opens 45° towards the side it must act on; one that must be zero goes.
    wanted = abs(now) if abs(now) > NO_PART * size else math.hypot(*rest) or size
    changed = add(rest, scale(part.along, wanted * stage.sign))
    length = math.hypot(*changed)
    if length <= NO_PART * size:
        return (0.0, 0.0), None
    return scale(changed, size / length), None


def _usual(analysis: Analysis, *, couple: bool = False) -> float:
    known = [abs(reading.couple_n_m or 0.0) if couple else abs(reading.size_n or 0.0)
             for reading in analysis.readings if reading.force.role == "known"]  # fmt: skip
    return float(f"{max(known, default=0.0) or _USUAL_SIZE:.1g}")
