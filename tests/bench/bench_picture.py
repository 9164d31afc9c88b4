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
    """Median time of one call."""
    times = []
    for _ in range(ROUNDS):
        start = time.process_time()
        work()
        times.append((time.process_time() - start) * 1000)
    return statistics.median(times)


def main() -> None:
    """Print one line a measurement: milliseconds, the ratio, and the goal."""
    for name in ("shown", "crowded"):
        sketch = states()[name]
        analysis = seen(sketch)
        frame = sheet(sketch, "1366x768")
        first = board.draw(sketch, analysis, frame, "extended")
        scales = strips.settle(analysis, 863.0, None)
        bars = strips.draw(sketch, analysis, 863.0, scales)
        data = [record.as_data() for record in (*first.records, *bars.records)]
        base = median_ms(lambda data=data: json.dumps(data))  # type: ignore[misc]

        def preview() -> object:
            return board.draw(sketch, analysis, frame, "extended", sides=first.sides, moving=frozenset({"walker"}))

        def whole() -> object:
            return board.draw(sketch, analysis, frame, "extended")

        def rows() -> object:
            return strips.draw(sketch, analysis, 863.0, scales)

        forces = len(analysis.readings) if analysis is not None else 0
        kilobytes = len(json.dumps(data, separators=(",", ":"))) / 1000
        print(f"{name}: {forces} forces and couples, {len(data)} records, {kilobytes:.1f} kB")
        for label, work, goal in (
            ("preview", preview, "≤ 1.5 ms"),
            ("full placement", whole, "preview + ≤ 2 ms"),
            ("strips", rows, "-"),
        ):
            took = median_ms(work)
            print(f"  {label:15} {took:6.2f} ms  {took / base:5.2f} × writing the JSON   goal {goal}")


if __name__ == "__main__":
    main()
