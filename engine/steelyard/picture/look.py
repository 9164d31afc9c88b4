"""How a board is looked at: what every part of a drawing reads beside the thing it draws.

A part made from frozen things alone is made once and kept (`functools.lru_cache`): while a hand drags one thing,
most others stand as they did. Such a part may read nothing but its arguments, and gives back nothing that anyone
changes. A `Look` is kept by what it is made of, so that it stands for all of it and is compared at a glance.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from ..model import Answers, Settings
from .frame import Frame

# Parts kept of each sort: more than a large sketch has, so that a whole gesture finds what stands still.
PARTS_KEPT = 512


@dataclass(frozen=True, slots=True, eq=False)
class Look:
    """The sheet, the settings and whether answers are kept back; made by `look_of`, equal only to itself."""

    frame: Frame
    settings: Settings
    answers: Answers


@lru_cache(maxsize=16)
def look_of(frame: Frame, settings: Settings, answers: Answers) -> Look:
    """The one look with these parts."""
    return Look(frame, settings, answers)
