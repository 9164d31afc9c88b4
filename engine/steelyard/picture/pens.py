"""A small drawing board of its own for a symbol: px along and up from a place of the sheet."""

from __future__ import annotations

from dataclasses import dataclass

from ..geometry import Point
from .record import Layer, Record
from .text import number


@dataclass(frozen=True, slots=True)
class Pen:
    """A small drawing board of its own: a place on the sheet, a direction "up", px along and up from there."""

    at: Point
    up: Point
    unit: float

    def point(self, along: float, up: float) -> Point:
        """A sheet point from px along (to the right of "up") and px up."""
        ux, uy = self.up
        return (
            self.at[0] + (-uy * along + ux * up) * self.unit,
            self.at[1] + (ux * along + uy * up) * self.unit,
        )

    def path(self, *points: tuple[float, float], closed: bool = False) -> str:
        """A path through such points."""
        drawn = "L".join(f"{number(x)} {number(y)}" for x, y in (self.point(*point) for point in points))
        return f"M{drawn}Z" if closed else f"M{drawn}"

    def hatched(self, level: float, half: float, depth: float = 7.0, gap: float = 7.0) -> str:
        """Slanted strokes below a line at a level: ground, wall or mount."""
        strokes = []
        along = -half + gap * 0.6
        while along <= half + 0.01:
            strokes.append(self.path((along, level), (along - depth * 0.75, level - depth)))
            along += gap
        return "".join(strokes)


def path_record(record_id: str, role: str, path: str, of: str, layer: Layer = "ground", name: str = "") -> Record:
    """A path that belongs to the symbol of a thing."""
    return Record(record_id, "path", role, layer, (("d", path),), (), of, "always", name)
