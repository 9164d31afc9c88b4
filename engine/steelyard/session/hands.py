"""What is in hand: a held grip, or a tool between its first point and the moment it is put down."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from ..edit.change import Change, find_given
from ..edit.context import Context
from ..edit.gestures import Gesture
from ..edit.given_hold import GivenHold
from ..edit.given_placing import GIVEN_TOOLS, TWO_POINT_GIVENS, GivenPlacing
from ..edit.ordering import Ordering
from ..edit.placing import TWO_POINT_TOOLS, Placing
from ..edit.snapping import Snapped
from ..errors import SteelyardError
from ..geometry import Point, Vector, distance
from ..model import Sketch
from ..picture.board import SnapMark
from ..picture.frame import DIAGRAM_PX
from ..picture.grips import PIVOT_IDS
from ..request import Request
from .grounds import HEAD_GRIPS, Ground, Shifted

# How near a hand must come to be caught by a point or a line, and by how much farther it must go to be let go.
CATCH_PX = 8.0
RELEASE_PER_CATCH = 1.5
# A round step on the paper is the smallest of 1, 2, 5 × 10ⁿ worth at least this much screen.
STEP_PX = 8.0
# Tools whose outline may take more corners than two.
CORNER_TOOLS = ("bent-bar", "plate")


Held = Gesture | GivenHold | Ordering | Placing


@dataclass(frozen=True, slots=True)
class Hand:
    """A gesture so far.

    `change` is what the last preview shows; None while there is nothing to show. `at_m` is where the hand is,
    before anything caught it. `waits`: a tool that needs a further point has none yet. `problem` is why the
    last point gave nothing new. `ground` is the one it was taken on, where that is not the board itself.
    """

    of: str
    grip: str
    tool: str | None
    held: Held
    at_m: Point
    ground: Ground | None = None
    change: Change | None = None
    waits: bool = False
    readout: str = ""
    snapped: Snapped | None = None
    problem: SteelyardError | None = None

    @property
    def mark(self) -> SnapMark | None:
        """What is caught, for the picture."""
        caught = self.snapped
        if caught is None or caught.kind in ("free", "round"):
            return None
        # A pivot at a crossing says itself which forces drop out there.
        says = caught.kind == "crossing" and (self.of in PIVOT_IDS or self.tool == "pivot")
        return SnapMark(caught.point, "" if says else caught.label)

    @property
    def start(self) -> tuple[str, Point] | None:
        """Whose arrow is drawn from a fixed point of the sheet while its head is in the hand, and that point."""
        created = self.change.created if self.change is not None else None
        of = created if self.tool is not None else self.of if self.grip in HEAD_GRIPS else None
        return (of, self.ground.origin_px) if of and isinstance(self.ground, Shifted) else None

    @property
    def ghost(self) -> tuple[Point, ...] | None:
        """First points of a thing that has no shape yet."""
        if not isinstance(self.held, Placing) or self.change is not None:
            return None
        return tuple(self.held.corners) or (self.held.start,)

    @property
    def moving(self) -> frozenset[str]:
        """What the hand moves: its labels may change side."""
        created = self.change.created if self.change is not None else None
        return frozenset(part for part in (self.of, created) if part)

    def as_data(self) -> dict[str, Any]:
        """The gesture as the page sees it; `open` while it goes on waiting for a point after a commit."""
        snapped = self.snapped.label if self.snapped is not None else ""
        return {
            "of": self.of,
            "grip": self.grip,
            "tool": self.tool,
            "readout": self.readout,
            "snapped": snapped,
            "open": self.waits,
        }


def context_of(ground: Ground, catch_px: float, snap: bool) -> Context:
    """The board in metres, as gestures need it."""
    catch_m = catch_px / ground.px_per_m if snap else 0.0
    return Context(
        newtons_per_m=ground.n_per_px * ground.px_per_m,
        catch_m=catch_m,
        release_m=RELEASE_PER_CATCH * catch_px / ground.px_per_m,
        step_m=STEP_PX / ground.px_per_m if snap else 0.0,
        intensity_per_m=ground.n_per_px * ground.px_per_m**2 / DIAGRAM_PX,
    )


def _context(request: Request, sketch: Sketch, ground: Ground) -> Context:
    catch_px = request.size_px("catch_px") if request.has("catch_px") else CATCH_PX
    snap = request.flag("snap") if request.has("snap") else True
    return context_of(ground, catch_px, snap and sketch.settings.snap)


def take_grip(
    sketch: Sketch, request: Request, ground: Ground, chain: Mapping[str, Vector | None] | None = None
) -> Hand:
    """Take hold of a grip; raises SteelyardError when there is none or it cannot move.

    `chain` holds the forces head to tail, where they are: then a shaft can be moved past others.
    """
    of, grip = request.text("of"), request.text("grip")
    start = ground.to_world(request.point_px("point_px"))
    gesture: Gesture | GivenHold | Ordering
    if grip == "shaft" and chain is not None:
        gesture = Ordering(sketch, of, chain, start)
    elif find_given(sketch, of) is not None:
        gesture = GivenHold(sketch, of, grip, start)
    else:
        gesture = Gesture(sketch, of, grip, start, _context(request, sketch, ground))
    return Hand(of, grip, None, gesture, start, readout=gesture.readout)


def take_tool(sketch: Sketch, tool: str, request: Request, ground: Ground, *, beside_forces: bool = False) -> Hand:
    """Put a tool down on the board; raises SteelyardError when it needs a body that is not there.

    `beside_forces`: what is placed must be seen where supports are replaced by their forces.
    """
    # Where forces stand alone, every arrow has its start already: only its head is the hand's.
    start = ground.origin_m if isinstance(ground, Shifted) else ground.to_world(request.point_px("point_px"))
    context = _context(request, sketch, ground)
    given_tool = next((each for each in GIVEN_TOOLS if each == tool), None)
    if given_tool is not None:
        placing: Placing = GivenPlacing(sketch, given_tool, start, context, beside_forces=beside_forces)
    else:
        placing = Placing(sketch, tool, start, context)
    waits = tool in TWO_POINT_TOOLS or tool in TWO_POINT_GIVENS
    hand = Hand("", "", tool, placing, start, waits=waits, snapped=placing.snapped)
    return hand if hand.waits else _placed(hand, placing, start, context)


def moved(hand: Hand, sketch: Sketch, request: Request, ground: Ground) -> Hand:
    """The hand at another point of the sheet."""
    point = ground.to_world(request.point_px("point_px"))
    context = _context(request, sketch, ground)
    if isinstance(hand.held, Placing):
        return _placed(hand, hand.held, point, context)
    hand.held.at(point, context)
    return _gestured(hand, hand.held)


def nudged(hand: Hand, sketch: Sketch, request: Request, ground: Ground) -> Hand:
    """The held grip moved by steps of the smallest round size; a tool's second point moves the same way."""
    dx, dy = request.number("dx"), request.number("dy")
    if max(abs(dx), abs(dy)) > MOST_STEPS:
        raise SteelyardError(
            "request.steps", "dx", f"`dx` and `dy` must be {MOST_STEPS:g} steps at most.", "Move less."
        )
    context = context_of(ground, CATCH_PX, True)
    if isinstance(hand.held, Placing):
        raise SteelyardError("session.nudge", "", "A tool is placed by its points.", "Send a preview with a point.")
    way = ground.way if isinstance(ground, Shifted) else 1.0
    hand.held.nudge(way * dx, way * dy, context)
    return _gestured(hand, hand.held)


# A hundred presses of a key with Shift; more is a slip.
MOST_STEPS = 1000.0


def cornered(hand: Hand, sketch: Sketch, ground: Ground) -> Hand:
    """The hand after one more corner of a bent bar or plate was set where the last preview was.

    It waits for the next corner, unless this one was set on the last or the first: that closes the outline.
    Other tools are not changed. Raises SteelyardError when there are too few corners to close.
    """
    placing = hand.held
    if not isinstance(placing, Placing) or hand.tool not in CORNER_TOOLS:
        return hand
    context = context_of(ground, CATCH_PX, sketch.settings.snap)
    if placing.corner(hand.at_m, context):
        return replace(hand, waits=True, problem=None)
    return replace(hand, change=placing.finish(), waits=False)


def _gestured(hand: Hand, gesture: Gesture | GivenHold | Ordering) -> Hand:
    return replace(hand, change=gesture.change(), readout=gesture.readout, snapped=gesture.snapped)


def _placed(hand: Hand, placing: Placing, point: Point, context: Context) -> Hand:
    hand = replace(hand, at_m=point)
    if hand.waits and hand.change is None and distance(point, placing.start) <= context.release_m:
        return hand
    try:
        change = placing.at(point, context)
    except SteelyardError as problem:
        return replace(hand, readout=problem.message, snapped=placing.snapped, problem=problem)
    return replace(hand, change=change, waits=False, readout=placing.readout, snapped=placing.snapped, problem=None)
