"""What the last picture leaves behind for the next one: where labels stand, and the scales of the strips."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ..model import Sketch
from ..picture import board, strips
from ..picture.board import NO_TRIES, Tries
from ..picture.frame import Frame, with_force_scale
from ..picture.grips import PIVOT_IDS
from ..picture.record import Picture
from ..picture.strips import Scales
from ..statics.reading import Analysis
from ..statics.tries import worth_trying
from .hands import Hand
from .presentation import Presentation


@dataclass(frozen=True, slots=True)
class Drawing:
    """Both pictures of one reply, the frame they were drawn in and the canvas for the next."""

    board: Picture
    strips: Picture
    frame: Frame
    canvas: Canvas


@dataclass(frozen=True, slots=True)
class Canvas:
    """Label sides by label id (none yet: place all anew) and the strips' scales."""

    sides: Mapping[str, int] = field(default_factory=dict)
    scales: Scales | None = None

    def drawn(
        self,
        sketch: Sketch,
        analysis: Analysis | None,
        presentation: Presentation,
        hand: Hand | None,
        preview: bool,
        lit: frozenset[str] | None = None,
    ) -> Drawing:
        """Draw board and strips. During a gesture scales hold still and labels keep their sides.

        `lit` names the only things that can be lit while the hand is busy.
        """
        frame = with_force_scale(presentation.frame, analysis, settle=not preview)
        picture = board.draw(
            sketch,
            analysis,
            frame,
            presentation.view,
            selected=presentation.selected,
            sides=self.sides,
            settle=not preview,
            moving=hand.moving if hand is not None else frozenset(),
            snap_mark=hand.mark if hand is not None else None,
            ghost=hand.ghost if hand is not None else None,
            lit=lit,
            tries=_tries(sketch, analysis, presentation, lit),
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
        )
        return Drawing(picture, sums, frame, replace(self, sides=picture.sides, scales=scales))


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
