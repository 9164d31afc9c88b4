"""What drawing costs, natively: a preview, a full placement, the strips, and the size of the reply's picture.

Run: python tests/bench/bench_picture.py. Ratios are against one pass of json.dumps over the same records, so
that they compare between machines.
"""

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


def measure(name: str) -> None:
    """Print what drawing one sketch costs."""
    sketch = states()[name]
    analysis = seen(sketch)
    frame = sheet(sketch, "1366x768")
    first = board.draw(sketch, analysis, frame, "extended")
    scales = strips.settle(analysis, 863.0, None)
    bars = strips.draw(sketch, analysis, 863.0, scales)
    data = [record.as_data() for record in (*first.records, *bars.records)]
    base = median_ms(lambda: json.dumps(data))
    moving = frozenset({"walker"})
    forces = len(analysis.readings) if analysis is not None else 0
    kilobytes = len(json.dumps(data, separators=(",", ":"))) / 1000
    print(f"{name}: {forces} forces and couples, {len(data)} records, {kilobytes:.1f} kB (goal ≤ 32 kB)")
    works: tuple[tuple[str, Callable[[], object], str], ...] = (
        (
            "preview",
            lambda: board.draw(sketch, analysis, frame, "extended", sides=first.sides, moving=moving),
            "≤ 1.5 ms",
        ),
        ("full placement", lambda: board.draw(sketch, analysis, frame, "extended"), "preview + ≤ 2 ms"),
        ("strips", lambda: strips.draw(sketch, analysis, 863.0, scales), "-"),
    )
    for label, work, goal in works:
        took = median_ms(work)
        print(f"  {label:15} {took:6.2f} ms  {took / base:5.2f} × writing the JSON   goal {goal}")


def main() -> None:
    """The gangway, and the same with twelve forces."""
    for name in ("shown", "crowded"):
        measure(name)


if __name__ == "__main__":
    main()
