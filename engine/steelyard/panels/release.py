"""Letting go, for the page: what happens in words, and the motion to play; nothing while answers are kept back."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from functools import lru_cache

from ..geometry import Point
from ..kinetics.motion import Motion, motion
from ..kinetics.release import release
from ..kinetics.released import Release
from ..kinetics.walking import Pose
from ..model import Body, Sketch
from ..picture import release as pictures
from ..picture.board import View
from ..picture.frame import Frame
from ..picture.text import plain
from ..report.letting_go import assumed, ending, energy_kept, said, seconds
from ..statics import shape
from ..statics.joined import bodies_of, connected
from ..statics.reading import Analysis
from .item import Item
from .words import symbol_runs

Data = dict[str, object]


def release_panel(sketch: Sketch, analysis: Analysis | None, frame: Frame, view: View, *, wanted: bool) -> Data:
    """`{offered, shown}`: whether the body does not stay as it stands, and, where `wanted`, what happens.

    `shown` holds what is said and, where it moves, the path of each body with a transform for each moment.
    """
    if analysis is None or sketch.answers == "kept":
        return {"offered": False, "shown": None}
    if not _goes_together(sketch, analysis):
        return {"offered": False, "shown": None}
    return {"offered": moves(analysis), "shown": _shown(sketch, analysis.body, frame, view) if wanted else None}


def _goes_together(sketch: Sketch, analysis: Analysis) -> bool:
    """Whether all that is looked at is one body, or joined: bodies apart are let go one by one."""
    return set(bodies_of(sketch, analysis.system)) <= set(connected(sketch, (analysis.body,)))


def moves(analysis: Analysis) -> bool:
    """Whether the body as drawn is not in balance, or free to move, so that letting it go is worth a look."""
    kind = analysis.supports.kind
    return kind in ("mechanism", "impossible") or (kind == "none" and analysis.balance.kind == "unbalanced")


def release_action(sketch: Sketch, selected: str) -> list[Item]:
    """The button in the fields of a body that lets it go, held or not; none while answers are kept back."""
    if sketch.answers == "kept" or all(body.id != selected for body in sketch.bodies):
        return []
    looked_at = bodies_of(sketch, sketch.isolated) or (selected,)
    if not {selected, *looked_at} <= set(connected(sketch, looked_at[:1])):
        return []
    return [
        {
            "key": "let-go",
            "label": "Let go",
            "kind": "show",
            "text": "",
            "unit": "",
            "show": {"let_go": True},
            "spoken": "let it go",
        }
    ]


@lru_cache(maxsize=2)
def _found(sketch: Sketch, body_id: str) -> tuple[Release, Motion | None]:
    """Only a saving of work: zooming and panning draw the same motion again."""
    found = release(sketch, body_id)
    return found, motion(sketch, found, body_id=body_id)


def _shown(sketch: Sketch, body_id: str, frame: Frame, view: View) -> Data:
    found, moved = _found(sketch, body_id)
    return {
        "words": [_runs(sentence, found) for sentence in said(sketch, found)],
        "assumed": {"text": "" if found.trouble else assumed(sketch, found)},
        "motion": None if moved is None else _played(sketch, found, moved, frame, view),
    }


def _runs(sentence: str, found: Release) -> list[dict[str, str]]:
    """A sentence with its symbols as symbols: in a face without serifs α is hardly told from a."""
    told = found.bodies or (found,)
    symbols = {plain(each.force.symbol): each.force.symbol for one in told for each in one.held}
    named = "|".join(re.escape(f"({name})") for name in symbols)
    runs: list[dict[str, str]] = []
    for part in re.split(rf"(α|\ba(?= = )|{named or '$^'})", sentence):
        if part in ("α", "a"):
            runs.append({"text": part, "role": "symbol"})
        elif part[1:-1] in symbols:
            runs += [{"text": "(", "role": "plain"}, *symbol_runs(symbols[part[1:-1]]), {"text": ")", "role": "plain"}]
        elif part:
            runs.append({"text": part, "role": "plain"})
    return runs


def swept(sketch: Sketch, analysis: Analysis | None) -> tuple[Point, ...]:
    """Where the corners of what moves come on its way; nothing where it stays or answers are kept back."""
    if analysis is None or sketch.answers == "kept" or not _goes_together(sketch, analysis):
        return ()
    _, moved = _found(sketch, analysis.body)
    if moved is None:
        return ()
    return tuple(
        place
        for body, poses in _poses(sketch, moved, analysis.body)
        for pose in poses
        for place in shape.outermost(
            replace(body, origin_m=pose.origin_m, angle_deg=body.angle_deg + math.degrees(pose.turned_rad))
        )
    )


def _poses(sketch: Sketch, moved: Motion, body_id: str) -> list[tuple[Body, tuple[Pose, ...]]]:
    """The bodies that move, with their poses."""
    return [(sketch.body(each), poses) for each, poses in moved.bodies or ((body_id, moved.poses),)]


def _played(sketch: Sketch, found: Release, moved: Motion, frame: Frame, view: View) -> Data:
    # Where things are drawn as their forces only, so they are on the way.
    told = found.bodies or (found,)
    riding = {thing.force.id for each in told for thing in each.things if not thing.left and view == "set-up"}
    return {
        "outlines": [
            {
                "path": pictures.outline(sketch, body, frame, riding),
                "transforms": pictures.transforms(body, poses, frame),
            }
            for body, poses in _poses(sketch, moved, found.body)
        ],
        "times": [round(pose.time_s, 6) for pose in moved.poses],
        "stamps": [{"text": seconds(pose.time_s, sketch.settings)} for pose in moved.poses],
        "ending": {"text": ending(sketch, moved)},
        "energy": {"text": energy_kept(moved, sketch.settings)},
    }
