"""The tray: what can be drawn, grouped by grammar, with its key and one line of help."""

from __future__ import annotations

from typing import NamedTuple


class Tool(NamedTuple):
    """One tool: `points` board points place it; a drag may always give the second one.

    `corners`: taps may go on beyond two points (`commit` with `more`), one corner each. `alone`: its help in the
    views that draw forces alone; a tool without it is of no use there.
    """

    name: str
    label: str
    group: str
    key: str
    points: int
    help: str
    corners: bool = False
    alone: str = ""


TRAY = (
    Tool("bar", "Bar", "Body", "b", 2, "Press at one end and let go at the other, or tap both ends."),
    Tool(
        "bent-bar", "Bent bar", "Body", "e", 2, "Draw from end to end, or tap each bend and the last one twice.", True
    ),
    Tool(
        "plate",
        "Plate",
        "Body",
        "l",
        2,
        "Draw from corner to corner, or tap each corner and the first one again.",
        True,
    ),
    Tool("disc", "Disc", "Body", "k", 2, "Press at its centre and let go on its rim, or tap both."),
    Tool("hole", "Hole", "Body", "h", 1, "Tap a plate or disc: a round hole. Drag from its centre for its radius."),
    Tool(
        "pin",
        "Pin",
        "Held by",
        "i",
        1,
        "Tap the body: it is held there and can turn; two that meet are joined.",
    ),
    Tool("roller", "Roller", "Held by", "o", 1, "Tap the body, or drag the way the roller pushes."),
    Tool(
        "rope",
        "Rope",
        "Held by",
        "r",
        2,
        "Press on the body, let go at the anchor or another body. It only pulls.",
    ),
    Tool(
        "strut",
        "Strut",
        "Held by",
        "u",
        2,
        "Press on the body, let go at the far end or another body. It pulls or pushes.",
    ),
    Tool(
        "contact",
        "Contact",
        "Held by",
        "c",
        1,
        "Tap the body where something touches it. It pushes; type a μ if it is rough.",
    ),
    Tool("face", "Face", "Held by", "g", 2, "Drag along the body as far as a surface touches it, or tap both ends."),
    Tool("fixed", "Fixed end", "Held by", "x", 1, "Tap the body: it can neither move nor turn there."),
    Tool(
        "force",
        "Force",
        "Loads",
        "f",
        2,
        "Press where it acts on the body, drag the way it points.",
        alone="Drag its head to where it points. It acts at the centre of mass until you move it on the small body.",
    ),
    Tool("couple", "Couple", "Loads", "m", 1, "Tap the body: it is turned without being pushed anywhere."),
    Tool("thing", "Thing", "Loads", "t", 1, "Tap the body: something stands there at rest."),
    Tool("spread", "Spread load", "Loads", "w", 2, "Press on the body and drag along it as far as the load lies."),
    Tool(
        "pivot",
        "Pivot",
        "Torques",
        "p",
        1,
        "Tap the point to take torques about, on the body or off it.",
        alone="Tap the point to take torques about, on the small body or beside it.",
    ),
    Tool("length", "Length", "Givens", "d", 2, "Press on one point and let go on another: an end, a support, a load."),
    Tool("angle", "Angle", "Givens", "a", 2, "Tap a line, then the other line; beside or above it for the horizontal."),
    Tool("slope", "Slope", "Givens", "s", 1, "Tap a bar, a rope or a force: a triangle shows how steep it is."),
    Tool("label", "Label", "Givens", "n", 1, "Tap a point: it gets a letter or words."),
)
TOOL_NAMES = frozenset(tool.name for tool in TRAY)


def tray() -> list[dict[str, object]]:
    """The tools as data: the groups of the tray in order, each with its tools."""
    groups: dict[str, list[dict[str, object]]] = {}
    for tool in TRAY:
        groups.setdefault(tool.group, []).append(tool._asdict())
    return [{"group": group, "tools": tools} for group, tools in groups.items()]
