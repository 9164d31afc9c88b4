"""The body as it moves when let go: its outline once, and where it is at each moment."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

from ..geometry import Point
from ..kinetics.walking import Pose
from ..model import Body, Sketch, Thing
from .bodies import outline_px, piece_path, thing, whole_path
from .frame import Frame


def outline(sketch: Sketch, body: Body, frame: Frame, riding: Collection[str]) -> str:
    """The path of the body and of the things riding on it, as they stand before they are let go."""
    path = whole_path(body, outline_px(body, frame, sketch), frame)
    path += "".join(piece_path(body, piece, frame) for piece in body.pieces)
    for load in sketch.loads:
        if isinstance(load, Thing) and load.body == body.id and load.id in riding:
            record, _ = thing(load, body, frame, "")
            path += dict(record.attrs)["d"]
    return path


def transforms(body: Body, poses: Sequence[Pose], frame: Frame) -> list[str]:
    """An SVG transform of that path for each pose."""
    return [_transform(frame.to_sheet(body.origin_m), frame.to_sheet(pose.origin_m), pose) for pose in poses]


def _transform(from_px: Point, to_px: Point, pose: Pose) -> str:
    """Turned about where the origin was, then moved with it; y points down on the sheet."""
    cosine, sine = math.cos(pose.turned_rad), math.sin(pose.turned_rad)
    x, y = from_px
    shift_x, shift_y = to_px[0] - (x * cosine + y * sine), to_px[1] - (y * cosine - x * sine)
    return f"matrix({cosine:.6f} {-sine:.6f} {sine:.6f} {cosine:.6f} {shift_x:.2f} {shift_y:.2f})"
