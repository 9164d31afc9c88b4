"""What the limits of one number are: changes, the stretches between them, and where a body is held."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..document.paths import Number

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
