"""The working as the page shows it: the revealed steps, and how many are still to come."""

from __future__ import annotations

from typing import NamedTuple

from ..working.data import step_data
from ..working.record import Working


class Worked(NamedTuple):
    """A working and how much of it is revealed."""

    working: Working
    revealed: int


def working(worked: Worked) -> dict[str, object]:
    """`{steps, total, revealed}`; a step not revealed is only counted."""
    steps = worked.working.steps
    shown = steps[: worked.revealed]
    return {
        "steps": [step_data(step, comma=worked.working.comma) for step in shown],
        "total": len(steps),
        "revealed": len(shown),
    }
