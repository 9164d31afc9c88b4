"""What drawing costs, natively: a preview, a full placement of the labels, and the strips."""

from __future__ import annotations

import json
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "engine"), str(ROOT / "tests" / "engine")]

from picture_cases import seen, sheet, states  # noqa: E402
from row import Row  # noqa: E402
from steelyard.picture import board, strips  # noqa: E402

ROUNDS = 60


def median_ms(work: Callable[[], object]) -> float:
    """Median processor time of one call: other work on the machine does not count."""
    times = []
    for _ in range(ROUNDS):
        start = time.process_time()
        work()
        times.append((time.process_time() - start) * 1000)
    return statistics.median(times)


def measure(name: str, says: str) -> list[Row]:
    """What drawing one sketch costs, against one pass of json.dumps over the same records."""
    sketch = states()[name]
    analysis = seen(sketch)
    frame = sheet(sketch, "1366x768")
    first = board.draw(sketch, analysis, frame, "extended")
    scales = strips.settle(analysis, 863.0, None)
    bars = strips.draw(sketch, analysis, 863.0, scales)
    data = [record.as_data() for record in (*first.records, *bars.records)]
    base = median_ms(lambda: json.dumps(data))
    moving = frozenset({"walker"})
    works: tuple[tuple[str, Callable[[], object]], ...] = (
        ("preview", lambda: board.draw(sketch, analysis, frame, "extended", sides=first.sides, moving=moving)),
        ("all labels placed anew", lambda: board.draw(sketch, analysis, frame, "extended")),
        ("strips", lambda: strips.draw(sketch, analysis, 863.0, scales)),
    )
    against = f"{base:.3g} ms (json.dumps of its {len(data)} records)"
    found = []
    for label, work in works:
        took = median_ms(work)
        found.append(Row(f"drawing, {says}: {label}", f"{took:.3g} ms", against, took / base, "", None))
    return found


def rows() -> list[Row]:
    """The gangway, and the same with twelve forces; natively."""
    return [*measure("shown", "4 forces"), *measure("crowded", "12 forces")]
