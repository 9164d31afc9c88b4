"""One line of the benchmarks' table."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """What was measured, against what, their ratio, the goal as text, and whether it is met (None: no goal)."""

    name: str
    measured: str
    against: str
    ratio: float | None
    goal: str
    met: bool | None


def at_most(name: str, measured: float, against: float, goal: float, unit: str, against_what: str) -> Row:
    """A row whose ratio of two like quantities may be `goal` at most."""
    ratio = measured / against
    text = f"{against:.4g} {unit} ({against_what})"
    return Row(name, f"{measured:.4g} {unit}", text, ratio, f"≤ {goal:g}", ratio <= goal)
