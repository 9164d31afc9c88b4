"""How a sketch is being looked at: the board's size, the window on the paper, what is selected. Never stored."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal, TypeVar

from ..errors import SteelyardError
from ..picture import frame as frames
from ..picture.board import View
from ..picture.force_views import FORCE_VIEWS
from ..picture.frame import Frame
from ..request import Request
from ..working.layout import ROW_PX
from ..working.reading import Way
from .tools import TOOL_NAMES

Side = Literal["", "working", "forces"]
Sum = Literal["pivot", "x", "y"]
Name = TypeVar("Name", bound=str)

VIEWS: tuple[View, ...] = ("set-up", "extended", "point", "polygon")
SIDES: tuple[Side, ...] = ("", "working", "forces")
WAYS: tuple[Way, ...] = ("sums", "geometry")
SUMS: tuple[Sum, ...] = ("pivot", "x", "y")
# The isolating step gives nothing away, and shows what a working is.
FIRST_REVEALED = 1
# Narrower than this a row would hold less than one number with its unit.
LEAST_LINE_PX = 120.0
# More than any working has.
EVERY_STEP = 1000
SCALES = (0.5, 4.0)
ZOOMS = (1e-3, 1e3)
# Farther than any sketch reaches; it keeps pixels exact after any number of pans.
FARTHEST_M = 1e9


@dataclass(frozen=True, slots=True)
class Study:
    """How the working is being read.

    `side` is the open tab of the side panel, "" when it is closed. `revealed`: how many steps of the working are to be
    seen. `numbers` false: symbols only. `way`: by sums, or by the geometry of three forces where there is one. `order`:
    the user's own first sums, of "pivot", "x" and "y". `line_px`: the room for a row of mathematics.
    """

    side: Side = ""
    revealed: int = FIRST_REVEALED
    numbers: bool = True
    way: Way = "sums"
    order: tuple[Sum, ...] = ()
    line_px: float = ROW_PX

    def as_data(self) -> dict[str, object]:
        """The same as the page sends it."""
        return {
            "side": self.side,
            "revealed": self.revealed,
            "numbers": self.numbers,
            "way": self.way,
            "order": list(self.order),
        }


@dataclass(frozen=True, slots=True)
class Presentation:
    """The board and strips in CSS pixels, the view, and what is selected or in hand.

    `both`: the part of a guessed unknown to be seen drawn both ways, side by side.
    `partner`: the force whose third-law partner is shown beside the board.
    `track`: the path of the number whose limits are shown on a track, while its thing is selected.
    `let_go`: what happens when the body is let go is shown; any edit ends it.
    `fitted`: nobody has zoomed or panned since the sketch was fitted, so a board of another size fits it anew.
    """

    frame: Frame = field(default_factory=lambda: Frame(863.0, 522.0, 100.0, (3.0, 0.5)))
    view: View = "extended"
    strips_px: float = 863.0
    selected: str | None = None
    tool: str | None = None
    fitted: bool = True
    study: Study = Study()
    both: str = ""
    partner: str | None = None
    track: str | None = None
    let_go: bool = False


def shown(before: Presentation, request: Request) -> Presentation:
    """The presentation after `show`; only what the request names changes. Raises SteelyardError."""
    after = before
    if request.has("view"):
        after = replace(after, view=_one_of("view", VIEWS, request.text("view")))
    if request.has("tool"):
        after = replace(after, tool=read_tool(request))
    if request.has("selected"):
        after = replace(after, selected=request.text_or_none("selected"))
    if request.has("partner"):
        after = replace(after, partner=request.text_or_none("partner"))
    if request.has("track"):
        after = replace(after, track=request.text_or_none("track"))
    if request.has("let_go"):
        # The motion is drawn over the body, which is only seen in its place beside supports or their forces.
        let_go = request.flag("let_go")
        here = "extended" if let_go and after.view in FORCE_VIEWS else after.view
        after = replace(after, let_go=let_go, view=here)
    elif after.view in FORCE_VIEWS:
        after = replace(after, let_go=False)
    if request.has("both"):
        after = replace(after, both=request.text("both"))
    if request.has("strips_px"):
        after = replace(after, strips_px=request.size_px("strips_px"))
    return replace(after, frame=_sheet(after.frame, request), study=_studied(after.study, request))


def _studied(before: Study, request: Request) -> Study:
    after = before
    if request.has("side"):
        after = replace(after, side=_one_of("side", SIDES, request.text("side")))
    if request.has("revealed"):
        after = replace(after, revealed=min(EVERY_STEP, max(0, request.whole("revealed"))))
    if request.has("numbers"):
        after = replace(after, numbers=request.flag("numbers"))
    if request.has("way"):
        after = replace(after, way=_one_of("way", WAYS, request.text("way")))
    if request.has("line_px"):
        after = replace(after, line_px=max(LEAST_LINE_PX, request.size_px("line_px")))
    if request.has("order"):
        named = dict.fromkeys(_one_of("order", SUMS, name) for name in request.texts("order"))
        after = replace(after, order=tuple(named))
    return after


def _one_of(key: str, names: tuple[Name, ...], text: str) -> Name:
    for name in names:
        if name == text:
            return name
    listed = ", ".join(f'"{name}"' for name in names)
    raise SteelyardError(
        f"request.{key}", key, f'`{key}` must be one of {listed}: got "{text[:40]}".', "Send one of these."
    )


def read_tool(request: Request) -> str | None:
    """The tool named in a request; None puts the tool down."""
    tool = request.text_or_none("tool")
    if tool is not None and tool not in TOOL_NAMES:
        names = ", ".join(sorted(TOOL_NAMES))
        raise SteelyardError(
            "request.tool", "tool", f'`tool` must be one of {names}: got "{tool[:40]}".', "Send one of these."
        )
    return tool


def _sheet(frame: Frame, request: Request) -> Frame:
    width = request.size_px("width_px") if request.has("width_px") else frame.width_px
    height = request.size_px("height_px") if request.has("height_px") else frame.height_px
    covered = frame.covered_px
    if request.has("covered_px"):
        top, right, bottom, left = request.numbers_px("covered_px", 4)
        covered = (max(0.0, top), max(0.0, right), max(0.0, bottom), max(0.0, left))
    if request.has("text_scale"):
        scale = min(SCALES[1], max(SCALES[0], request.number("text_scale")))
        frame = replace(frame, text_scale=scale)
    if request.has("touch"):
        frame = replace(frame, touch=request.flag("touch"))
    if (width, height, covered) == (frame.width_px, frame.height_px, frame.covered_px):
        return frame
    return frames.resized(frame, width, height, covered)


def looked(before: Presentation, request: Request) -> Presentation:
    """The presentation after `look` with a zoom or a pan; fitting is the session's, which knows the sketch."""
    frame = before.frame
    if request.has("zoom"):
        zoom = read_zoom(request)
        at = request.point_px("at_px") if request.has("at_px") else frame.middle_px
        frame = frames.zoomed(frame, zoom, at)
    if request.has("pan_px"):
        dx, dy = request.point_px("pan_px")
        frame = frames.panned(frame, dx, dy)
    x, y = frame.centre_m
    centre = (min(FARTHEST_M, max(-FARTHEST_M, x)), min(FARTHEST_M, max(-FARTHEST_M, y)))
    return replace(before, frame=replace(frame, centre_m=centre), fitted=False)


def read_zoom(request: Request) -> float:
    """The factor of a zoom; raises SteelyardError when it is beyond reason."""
    zoom = request.number("zoom")
    if not ZOOMS[0] <= zoom <= ZOOMS[1]:
        raise SteelyardError(
            "request.zoom", "zoom", f"`zoom` must be a factor from {ZOOMS[0]:g} to {ZOOMS[1]:g}: got {zoom:g}.", ""
        )
    return zoom
