"""The round trip of a preview through the door, 12 forces: time and size, natively and in the browser's own Python."""

import json
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path
from typing import Any

from row import Row
from steelyard import document, shelf
from steelyard.bridge import Door
from steelyard.model import Force, Sketch
from steelyard.session.presentation import EVERY_STEP

GOAL_MS, GOAL_KB = 4.0, 32.0
PREVIEWS = 200
HERE = Path(__file__).resolve().parent
# A reply's base is the state the page holds; the first previews warm the caches that a real hand finds warm.
WARM_UP = 20

Timed = tuple[float, int]


def rows() -> list[Row]:
    """Two rows for each Python: time and size of a preview while the walker is dragged, then the pivot."""
    found = []
    for name, everything, side, revealed in (
        ("arms of the held force", False, "forces", 1),
        ("the same, the working open", False, "working", 1),
        ("every arm on the board", True, "forces", 1),
        ("every arm, the working open", True, "working", 1),
        ("every arm, every step of it revealed", True, "working", EVERY_STEP),
    ):
        requests = conversation(twelve_forces(everything), side, revealed)
        previews = [place for place, request in enumerate(requests) if '"do": "preview"' in request]
        for where, timed in (("native", natively(requests)), ("wasm", in_wasm(requests))):
            found += _rows(f"preview, 12 forces, {name}, {where}", [timed[place] for place in previews])
    return found


def _rows(name: str, timed: list[Timed]) -> list[Row]:
    previews = timed[WARM_UP:]
    times = sorted(each for each, _ in previews)
    p95, median = times[int(0.95 * len(times))], statistics.median(times)
    largest = max(size for _, size in previews) / 1000.0
    return [
        Row(name, f"p95 {p95:.2f} ms (median {median:.2f})", "-", p95 / GOAL_MS, f"≤ {GOAL_MS:g} ms", p95 <= GOAL_MS),
        Row("  its size", f"{largest:.1f} kB", "-", largest / GOAL_KB, f"≤ {GOAL_KB:g} kB", largest <= GOAL_KB),
    ]


def twelve_forces(all_constructions: bool) -> Sketch:
    """The gangway with eight more arrows on it, answers shown."""
    sketch = shelf.load("gangway")
    more = tuple(
        Force(f"crate{index}", sketch.bodies[0].id, (0.5 + 0.6 * index, 0.0), f"F_{index}", "contact", "crate",
              size_n=300.0 + 40.0 * index, direction_deg=200.0 + 20.0 * index)
        for index in range(8)
    )  # fmt: skip
    return replace(
        sketch,
        answers="shown",
        loads=(*sketch.loads, *more),
        settings=replace(sketch.settings, all_constructions=all_constructions),
    )


def conversation(sketch: Sketch, side: str = "forces", revealed: int = 1) -> list[str]:
    """Open, take hold, and drag: half of the previews with the walker, half with the pivot.

    `side` is the open tab, `revealed` how many steps of the working are shown in it.
    """
    requests: list[dict[str, Any]] = [
        {"do": "show", "width_px": 863, "height_px": 522, "strips_px": 863, "side": side},
        {"do": "open", "document": document.write(sketch)},
        {"do": "show", "revealed": revealed},
    ]
    scout = Door()
    for request in requests:
        opened = json.loads(scout.handle(json.dumps({"seq": 0, **request})))
    for of, grip in (("walker", "tail"), ("pivot", "pivot")):
        x, y = next(each for each in opened["picture"]["targets"] if each["of"] == of)["points_px"][0]
        requests.append({"do": "show", "selected": of})
        requests.append({"do": "begin", "of": of, "grip": grip, "point_px": [x, y]})
        for step in range(PREVIEWS // 2):
            requests.append(
                {"do": "preview", "point_px": [x - 2.0 * step, y - 1.3 * step], "snap": False, "catch_px": 8}
            )
        requests.append({"do": "commit"})
    requests.pop()
    return [json.dumps({"seq": seq, "base": seq - 1, **request}) for seq, request in enumerate(requests)]


def natively(requests: list[str]) -> list[Timed]:
    """Milliseconds and bytes of each reply in this Python."""
    door = Door()
    found = []
    for request in requests:
        # Processor time: other work on the machine does not count.
        start = time.process_time()
        reply = door.handle(request)
        found.append(((time.process_time() - start) * 1000.0, len(reply.encode())))
    return found


def in_wasm(requests: list[str]) -> list[Timed]:
    """The same in the packed engine under Node."""
    from command import site
    from command.places import CACHE

    setting = json.loads((CACHE / "for-the-tests.json").read_text(encoding="utf-8"))
    built = site.ensure(Path(sys.executable))
    with tempfile.TemporaryDirectory() as temporary:
        written = Path(temporary) / "times.json"
        subprocess.run(
            [
                *setting["node"],
                HERE / "time_requests.mjs",
                CACHE / "npm-site" / "node_modules" / "pyodide",
                built / "v" / built.name / "python",
                written,
            ],
            input=json.dumps(requests),
            text=True,
            encoding="utf-8",
            check=True,
        )
        return [(float(ms), int(size)) for ms, size in json.loads(written.read_text(encoding="utf-8"))]
