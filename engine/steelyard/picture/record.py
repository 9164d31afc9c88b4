"""The display list: the one thing every painter reads.

A picture is a flat list of records in paint order within each layer. Attributes are final strings in
sheet pixels (y down), rounded; no colours (a `role` is a class the theme styles). The live painter
patches the SVG DOM by id; the export painter writes the same records with svgwrite.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

Tag = Literal["path", "circle", "text"]
# Paint order. `figure` layers are exported; `overlay` is screen only.
Layer = Literal["edge", "ground", "body", "construct", "force", "pivot", "label", "overlay"]
LAYERS: tuple[Layer, ...] = ("edge", "ground", "body", "construct", "force", "pivot", "label", "overlay")
EXPORTED: frozenset[str] = frozenset(LAYERS[:-1])


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of text in one style: `role` is a class ("symbol", "value", "small", "sub" ...)."""

    text: str
    role: str
    dx: float = 0.0
    dy: float = 0.0

    def as_data(self) -> dict[str, object]:
        """The run as JSON data; shifts of nothing are left out."""
        data: dict[str, object] = {"text": self.text, "role": self.role}
        if self.dx:
            data["dx"] = self.dx
        if self.dy:
            data["dy"] = self.dy
        return data


class Record(NamedTuple):
    """One primitive. `id` comes from entities ("force3.arm"), never from a position in a list.

    A point divides the entity's own id from the part: no entity id can hold one, so ids never clash.

    `role` is the styling class. `of` is the entity or force it belongs to (lighting adds one class to
    all records with that `of`). `shown` is "always", or "lit": painted only while `of` is lit or
    pinned. `name` is what a screen reader calls it (empty: presentational).

    A named tuple: a hundred are made and compared at each pointer move, and a frozen dataclass takes thrice as long.
    """

    id: str
    tag: Tag
    role: str
    layer: Layer
    attrs: tuple[tuple[str, str], ...]
    runs: tuple[Run, ...] = ()
    of: str = ""
    shown: Literal["always", "lit"] = "always"
    name: str = ""

    def as_data(self) -> dict[str, object]:
        """The record as JSON data; empty parts are left out to keep replies small."""
        record_id, tag, role, layer, attrs, runs, of, shown, name = self
        data: dict[str, object] = {"id": record_id, "tag": tag, "role": role, "layer": layer, "attrs": dict(attrs)}
        if runs:
            data["runs"] = [run.as_data() for run in runs]
        if of:
            data["of"] = of
        if shown != "always":
            data["shown"] = shown
        if name:
            data["name"] = name
        return data


@dataclass(frozen=True, slots=True)
class Target:
    """Something a hand can pick, for hit-testing in the page.

    `grip` names what of the entity is held: "body", "start", "end", "corner-2", "tail", "head",
    "slide", "place", "anchor", "pivot". `shape` is "dot" (one point), "line" (polyline) or "area"
    (closed polygon); `points_px` in sheet pixels. `rank`: lower is picked first where things stack.
    `selected_only`: offered only while its entity is selected. `locked`: why it cannot move, else "".
    `name` is spoken and listed. `cursor` is a CSS cursor name. With a `command` it is not held but pressed: the
    command is given with the world point `at_m`. `lights` is what it lights instead of `of`.
    """

    of: str
    grip: str
    shape: Literal["dot", "line", "area"]
    points_px: tuple[tuple[float, float], ...]
    rank: int
    name: str
    selected_only: bool = False
    locked: str = ""
    cursor: str = "grab"
    command: str = ""
    at_m: tuple[float, float] | None = None
    lights: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A whole drawing: sheet size in px, records in paint order, targets, and where labels stand (`sides`).

    `sides` remembers a place index by label id; handed back to the next drawing it keeps labels from jumping.
    `tails` are the sheet points at which arrows start, by force id, in views where that is not their own point.
    """

    width: float
    height: float
    records: tuple[Record, ...]
    targets: tuple[Target, ...] = ()
    sides: Mapping[str, int] = field(default_factory=dict)
    tails: Mapping[str, tuple[float, float]] = field(default_factory=dict)
