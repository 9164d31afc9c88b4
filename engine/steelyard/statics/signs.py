"""Which way an unknown must act, from geometry and one-way facts alone, whatever the sizes.

In one balance an unknown must oppose what the others add up to. When all the others act the same way,
that settles its sense without any number. A rope or a contact acts as drawn, or not at all.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from .advice import Advice, Part, pushing, turning


@dataclass(frozen=True, slots=True)
class Settled:
    """A sense known for sure: +1 as drawn, −1 against, 0 none; `strict`: certainly not zero."""

    sign: int
    strict: bool


@dataclass(frozen=True, slots=True)
class SenseVerdict:
    """What one balance says about one unknown without numbers.

    certain: it acts with `sign` (`strict` when it cannot be zero). depends: `for_drawn` act so that the
    unknown must act as drawn, `against_drawn` the other way: the larger side decides. open: `unsure` are
    unknowns whose own sense is not settled.
    """

    kind: Literal["certain", "depends", "open"]
    sign: int
    strict: bool
    for_drawn: tuple[str, ...]
    against_drawn: tuple[str, ...]
    unsure: tuple[str, ...]


def sense_of(
    key: str, shares: Mapping[str, float], parts: Mapping[str, Part], settled: Mapping[str, Settled]
) -> SenseVerdict:
    """What a balance says about the sense of one of its unknowns; `shares` are the non-zero terms of its parts."""
    own = shares[key]
    with_drawn: list[str] = []
    against: list[str] = []
    unsure: list[str] = []
    strict = False
    for other, share in shares.items():
        if other == key:
            continue
        part = parts[other]
        state = known_sense(part, settled.get(other))
        if state is None:
            unsure.append(other)
            continue
        if state.sign == 0:
            continue
        strict = strict or state.strict
        needs = -share * state.sign * own
        (with_drawn if needs > 0.0 else against).append(other)
    if unsure:
        return SenseVerdict("open", 0, False, tuple(with_drawn), tuple(against), tuple(unsure))
    if with_drawn and against:
        return SenseVerdict("depends", 0, False, tuple(with_drawn), tuple(against), ())
    sign = 1 if with_drawn else -1 if against else 0
    return SenseVerdict("certain", sign, strict or sign == 0, tuple(with_drawn), tuple(against), ())


def known_sense(part: Part, settled: Settled | None) -> Settled | None:
    """The sense of a part as far as it is known before any number."""
    if not part.unknown:
        return Settled(0, True) if part.size == 0.0 else Settled(1, True)
    if settled is not None:
        return settled
    return Settled(1, False) if part.one_way else None


@dataclass(frozen=True, slots=True)
class Reason:
    """The balance that settled a sense, and what it said."""

    advice: Advice
    verdict: SenseVerdict


def shares_of(advice: Advice, parts: Mapping[str, Part], lever_m: float) -> dict[str, float]:
    """The terms of the sum an advice stands for: torque or force per unit of each part that has one."""
    if advice.point is not None:
        shares = {key: turning(part, advice.point, lever_m) for key, part in parts.items()}
    else:
        assert advice.along is not None
        shares = {key: pushing(part, advice.along) for key, part in parts.items()}
    return {key: share for key, share in shares.items() if share}


def settle(
    options: Sequence[Advice], parts: Mapping[str, Part], lever_m: float, without: Collection[str] = ()
) -> tuple[dict[str, Settled], dict[str, Reason]]:
    """The senses of all unknowns that geometry alone settles, with the sum that settled each.

    Goes round until nothing new follows: a sense found in one sum is used in the next. `without` are
    unknowns to leave unsettled, so that an argument about them does not use itself.
    """
    settled: dict[str, Settled] = {}
    reasons: dict[str, Reason] = {}
    sums = [(each, shares_of(each, parts, lever_m)) for each in options]
    progress = True
    while progress:
        progress = False
        for each, shares in sums:
            for key in shares:
                part = parts[key]
                before = settled.get(key)
                if (
                    not part.unknown
                    or part.which == "place"
                    or key in without
                    or (before is not None and before.strict)
                ):
                    continue
                verdict = sense_of(key, shares, parts, settled)
                if verdict.kind != "certain" or (before is not None and not verdict.strict):
                    continue
                if part.one_way and verdict.sign < 0:
                    continue  # a contradiction, said elsewhere: no balance like this
                settled[key] = Settled(verdict.sign, verdict.strict)
                reasons[key] = Reason(each, verdict)
                progress = True
    return settled, reasons
