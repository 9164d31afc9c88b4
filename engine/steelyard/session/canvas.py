"""What the last picture leaves behind for the next one: where labels stand, and the scales of the strips."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ..model import Sketch
from ..picture import board, force_views, strips
from ..picture.board import NO_TRIES, Tries, View
from ..picture.force_views import FORCE_VIEWS, Looking
from ..picture.frame import Frame, with_force_scale
from ..picture.grips import PIVOT_IDS
from ..picture.plane import inset_box, panned, sheet_of, zoomed
from ..picture.record import Picture
from ..picture.strips import Scales
from ..request import Request
from ..statics.reading import Analysis, ForceReading
from ..statics.tries import worth_trying
from .grounds import Alone
from .hands import Hand
from .presentation import Presentation, read_zoom


@dataclass(frozen=True, slots=True)
class Drawing:
    """Both pictures of one reply, the frame they were drawn in and the canvas for the next."""

    board: Picture
    strips: Picture
    frame: Frame
    canvas: Canvas


@dataclass(frozen=True, slots=True)
class Canvas:
    """Label sides by label id (none yet: place all anew), the strips' scales, and what is seen of forces alone."""

    sides: Mapping[str, int] = field(default_factory=dict)
    scales: Scales | None = None
    view: View = "extended"
    alone: Alone | None = None

    def drawn(
        self,
        sketch: Sketch,
        analysis: Analysis | None,
        presentation: Presentation,
        hand: Hand | None,
        preview: bool,
        lit: frozenset[str] | None = None,
        beside: tuple[ForceReading, ...] = (),
    ) -> Drawing:
        """Draw board and strips. During a gesture scales hold still and labels keep their sides.

        `lit` names the only things that can be lit while the hand is busy. `beside` are arrows drawn on bodies outside
        the system, for the view that shows all bodies.
        """
        frame = with_force_scale(presentation.frame, analysis, settle=not preview)
        view = presentation.view
        # Labels that stood beside arrows elsewhere say nothing about where they stand here.
        elsewhere = view != self.view and (view in FORCE_VIEWS or self.view in FORCE_VIEWS)
        sides = {} if elsewhere else self.sides
        # A body drawn on the empty sheet stays where the hand draws it until it is let go.
        empty = preview and hand is not None and self.view == view and self.alone is None
        alone = None if empty else self._alone_on(sketch, analysis, frame, view, preview)
        if alone is not None and analysis is not None:
            picture = _drawn_alone(sketch, analysis, frame, presentation, alone, hand, sides, preview, lit)
            alone = replace(alone, tails=picture.tails)
        else:
            picture = board.draw(
                sketch,
                analysis,
                frame,
                "extended" if view in FORCE_VIEWS else view,
                selected=presentation.selected,
                sides=sides,
                settle=not preview,
                moving=hand.moving if hand is not None else frozenset(),
                snap_mark=hand.mark if hand is not None else None,
                ghost=hand.ghost if hand is not None else None,
                lit=lit,
                tries=_tries(sketch, analysis, presentation, lit),
                beside=beside,
            )
        scales = self.scales
        if scales is None or not preview:
            scales = strips.settle(analysis, presentation.strips_px, scales)
        sums = strips.draw(
            sketch,
            analysis,
            presentation.strips_px,
            scales,
            text_scale=frame.text_scale,
            narrow=frame.compact,
            lit=lit,
        )
        after = replace(self, sides=picture.sides, scales=scales, view=view, alone=alone)
        return Drawing(picture, sums, frame, after)

    def _alone_on(
        self, sketch: Sketch, analysis: Analysis | None, frame: Frame, view: View, preview: bool
    ) -> Alone | None:
        """What is seen of forces alone; None in other views, and while there is nothing to draw."""
        if view not in FORCE_VIEWS or analysis is None:
            return None
        before = self.alone if self.view == view else None
        if before is not None and preview:
            return before
        window = force_views.window(sketch, analysis, frame, view, None if before is None else before.window)
        return Alone(inset_box(frame), window, sheet_of(frame, window).to_sheet((0.0, 0.0)), {})

    def fitted(self) -> Canvas:
        """The canvas with nothing zoomed or moved by hand where forces are drawn alone."""
        return replace(self, alone=None, view="extended") if self.alone is not None else self

    def looked(self, frame: Frame, request: Request) -> Canvas:
        """The canvas after a zoom or a pan of forces drawn alone; raises SteelyardError."""
        if self.alone is None:
            return self
        window = self.alone.window
        if request.has("zoom"):
            at = request.point_px("at_px") if request.has("at_px") else sheet_of(frame, window).middle_px
            window = zoomed(frame, window, read_zoom(request), at)
        if request.has("pan_px"):
            window = panned(window, *request.point_px("pan_px"))
        return replace(self, alone=replace(self.alone, window=window))


def _drawn_alone(
    sketch: Sketch,
    analysis: Analysis,
    frame: Frame,
    presentation: Presentation,
    alone: Alone,
    hand: Hand | None,
    sides: Mapping[str, int],
    preview: bool,
    lit: frozenset[str] | None,
) -> Picture:
    mark = hand.mark if hand is not None else None
    caught = None
    if mark is not None and hand is not None and hand.ground is not None:
        caught = (hand.ground.to_sheet(mark.point_m), mark.name)
    moving = hand.moving if hand is not None else frozenset()
    start = hand.start if hand is not None else None
    looking = Looking(presentation.selected, sides, not preview, moving, start, caught, lit)
    return force_views.draw(sketch, analysis, frame, presentation.view, alone.window, looking)


def _tries(
    sketch: Sketch,
    analysis: Analysis | None,
    presentation: Presentation,
    lit: frozenset[str] | None,
) -> Tries:
    """The points worth trying; while the hand is busy, only when it has a pivot in it."""
    if analysis is None or (lit is not None and not lit.intersection(PIVOT_IDS)):
        return NO_TRIES
    return Tries(worth_trying(sketch, analysis), presentation.study.side == "working")
