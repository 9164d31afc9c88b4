"""The sheet of newtons: where forces are drawn alone, and beside it the small body that says where they act.

Both parts have a `Frame`. That of the newtons takes them for metres: its `px_per_m` is px per newton, so that
everything that draws arrows on the board draws them here too.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ..geometry import Point
from .frame import Frame, Need, centre_of, zoom_for
from .labels import Box

# Sheets at least this wide have the small body at the right; on narrower ones it lies below.
WIDE_PX = 700.0
ASIDE_PART, ASIDE_PX = 0.36, (270.0, 460.0)
BELOW_PART, BELOW_PX = 0.36, (118.0, 240.0)
# How near and how far one may look, against the scale that shows everything.
LEAST_N_PER_PX, MOST_N_PER_PX = 1e-9, 1e12
# The scale of before is kept while everything is in sight at no less than this part of the best size.
KEPT_PART = 0.55
# What is needed round one point is at most this part of the sheet, or of a sheet whose middle is taken.
MOST_PART, MOST_PART_IN_MIDDLE = 0.55, 0.36
# With nothing to be seen yet, a division of the edge stands for a few newtons.
USUAL_N_PER_PX = 1.0


@dataclass(frozen=True, slots=True)
class Window:
    """What is seen of the newtons: how many a px is, and those in the middle; and of the body, `inset`.

    `by_hand`: zoomed or moved by someone, so it is left as it is.
    """

    n_per_px: float
    centre_n: Point
    inset: Frame
    by_hand: bool = False


def inset_box(frame: Frame) -> Box:
    """(left, top, right, bottom) of the part of the board the small body has."""
    scale = min(1.6, frame.text_scale)
    if frame.width_px >= WIDE_PX:
        low, high = ASIDE_PX
        width = min(high * scale, max(low * scale, ASIDE_PART * frame.width_px))
        return (frame.width_px - width, frame.covered_px[0], frame.width_px, frame.height_px - frame.covered_px[2])
    low, high = BELOW_PX
    bottom = frame.height_px - frame.covered_px[2]
    height = min(high * scale, max(low * scale, BELOW_PART * (bottom - frame.covered_px[0])))
    return (frame.covered_px[3], bottom - height, frame.width_px, bottom)


def newton_sheet(frame: Frame, n_per_px: float, centre_n: Point) -> Frame:
    """The frame of the newtons on this board."""
    left, top, _, _ = inset_box(frame)
    cover_top, cover_right, cover_bottom, cover_left = frame.covered_px
    if frame.width_px >= WIDE_PX:
        covered = (cover_top, max(0.0, frame.width_px - left), cover_bottom, cover_left)
    else:
        covered = (cover_top, cover_right, frame.height_px - top, cover_left)
    return replace(
        frame, covered_px=covered, px_per_m=1.0 / n_per_px, centre_m=centre_n, n_per_px=n_per_px, exact=False
    )


def sheet_of(frame: Frame, window: Window) -> Frame:
    """The frame of the newtons for a window."""
    return newton_sheet(frame, window.n_per_px, window.centre_n)


def fitted(frame: Frame, needs: list[Need], before: Window | None, inset: Frame, *, middle: bool) -> Window:
    """The window that shows all of these (in newtons, with the px they need round them).

    The one of before is kept while it shows everything well enough. `middle`: the origin stands in the middle.
    """
    largest = max((abs(part) for need in needs for part in need[0]), default=0.0)
    if largest == 0.0:
        n_per_px = before.n_per_px if before is not None else USUAL_N_PER_PX
        return Window(n_per_px, (0.0, 0.0), inset)
    sheet = newton_sheet(frame, 1.0, (0.0, 0.0))
    left, top, right, bottom = sheet.room
    # What labels and stubs would like round them may crowd a small sheet, but not press its arrows to nothing.
    part = MOST_PART_IN_MIDDLE if middle else MOST_PART
    wide, high = part * (right - left), part * (bottom - top)
    needs = [
        (at, min(wide, before_px), min(high, above_px), min(wide, after_px), min(high, below_px))
        for at, before_px, above_px, after_px, below_px in needs
    ]
    # In parts of the largest: whatever the sizes are, the search for the zoom stays within its bounds.
    scaled: list[Need] = [((need[0][0] / largest, need[0][1] / largest), *need[1:]) for need in needs]
    if middle:
        # What reaches out to one side needs as much room on the other.
        scaled += [((-x, -y), right, bottom, left, top) for (x, y), left, top, right, bottom in scaled]
    zoom = zoom_for(scaled, sheet)
    zoom = max(zoom, 0.12 * min(right - left, bottom - top))
    if not math.isfinite(zoom):
        zoom = 0.4 * min(right - left, bottom - top)
    if before is not None and not before.by_hand:
        held = largest / before.n_per_px
        if KEPT_PART * zoom <= held <= zoom * (1.0 + 1e-9) and _in_sight(
            needs, newton_sheet(frame, before.n_per_px, before.centre_n)
        ):
            return replace(before, inset=inset)
    x, y = (0.0, 0.0) if middle else centre_of(scaled, zoom)
    return Window(largest / zoom, (x * largest, y * largest), inset)


def _in_sight(needs: list[Need], sheet: Frame) -> bool:
    left, top, right, bottom = sheet.room
    for at, before, above, after, below in needs:
        x, y = sheet.to_sheet(at)
        if x - before < left or y - above < top or x + after > right or y + below > bottom:
            return False
    return True


def zoomed(frame: Frame, window: Window, factor: float, at_px: Point) -> Window:
    """Zoomed about a point of the sheet, which stays under the hand."""
    fixed = sheet_of(frame, window).to_world(at_px)
    n_per_px = min(MOST_N_PER_PX, max(LEAST_N_PER_PX, window.n_per_px / factor))
    x, y = sheet_of(frame, window).middle_px
    centre = (fixed[0] - (at_px[0] - x) * n_per_px, fixed[1] + (at_px[1] - y) * n_per_px)
    return replace(window, n_per_px=n_per_px, centre_n=centre, by_hand=True)


def panned(window: Window, dx_px: float, dy_px: float) -> Window:
    """The newtons moved by this many px (right and down positive)."""
    x, y = window.centre_n
    moved = (x - dx_px * window.n_per_px, y + dy_px * window.n_per_px)
    return replace(window, centre_n=moved, by_hand=True)
