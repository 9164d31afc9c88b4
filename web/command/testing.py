"""What `python3 tests` does: the set-up of `python3 web` with the test extras and a browser, then pytest."""

import json
import os
import subprocess
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

from . import browser, environment, node, packages, site
from .main import EXIT_MISSING
from .places import CACHE, ENGINE, ROOT, WEB
from .say import Missing, complain, say

# Where the tests find what was set up: {"browser", "axe", "tsc", "node"}.
SETTING = CACHE / "for-the-tests.json"
# Folders of the tests that are run by their own name instead of by pytest, and what is said of them.
OTHERS = {
    "bench": "Running the benchmarks …",
    "published": "Setting printed figures beside computed ones …",
    "screenshots": "Taking the pictures of the README …",
}
# Those of them that run the engine alone, and need neither a browser nor the built site.
ENGINE_ONLY = ("published",)
# The two halves of the whole run: the engine's tests share no state, so every core takes some of their files; those of
# the page wait for one browser most of the time and follow one another.
PARTS = (
    ("The engine", ("tests/engine", "tests/published"), True),
    ("The page", ("tests/web",), False),
)
MOST_PROCESSES = 8


def main(arguments: list[str]) -> int:
    """Set up and run the tests, or what the first word names (see `OTHERS`); return the exit code of that run."""
    try:
        python = environment.ensure(("build", "test"))
        if arguments and arguments[0] in ENGINE_ONLY:
            return _run(python, arguments)
        serving = node.find(python)
        tools = packages.ensure(packages.FOR_THE_TESTS, serving, folder="npm-tests")
        if tools is None:
            raise Missing("The packages for the tests are not there.")
        setting = {
            "browser": str(browser.ensure(python)),
            "axe": str(tools / "axe-core" / "axe.min.js"),
            "tsc": str(tools / "typescript" / "bin" / "tsc"),
            "node": list(serving.node),
        }
        SETTING.write_text(json.dumps(setting), encoding="utf-8")
    except Missing as missing:
        complain(str(missing))
        return EXIT_MISSING
    try:
        site.ensure(python)
    except Missing as missing:
        # The tests that need the site will fail and say so; those of the engine may show why.
        complain(str(missing))
    return _run(python, arguments)


def _run(python: Path, arguments: list[str]) -> int:
    """Run every test, or pytest with the words given, or what the first of them names; return the exit code."""
    paths = os.pathsep.join([str(ENGINE), str(WEB)])
    surroundings = {**os.environ, "PYTHONPATH": paths, "PYTHONIOENCODING": "utf-8"}
    other = OTHERS.get(arguments[0]) if arguments else None
    what = [ROOT / "tests" / arguments[0], *arguments[1:]] if other else ["-m", "pytest", *arguments]
    try:
        if not arguments:
            return _run_all(python, surroundings)
        say(other or "Running the tests …")
        return subprocess.run([python, *what], cwd=ROOT, env=surroundings, check=False).returncode
    except KeyboardInterrupt:
        return 128 + 2


@dataclass
class Outcome:
    """What one half of the run came to."""

    name: str
    code: int
    seconds: float
    passed: int = 0
    failed: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        ended = "" if self.failed or self.code == 0 else f"; pytest ended with code {self.code}"
        line = f"{self.name}: {self.passed} passed, {len(self.failed)} failed in {self.seconds:.0f} s{ended}."
        return "\n".join([line, *(f"  FAILED {each}" for each in self.failed)])


def _run_all(python: Path, surroundings: dict[str, str]) -> int:
    """Run both halves, whatever the first one came to, and say at the end what each came to."""
    outcomes = []
    for name, folders, shared_out in PARTS:
        words = ["-n", str(min(_cores(), MOST_PROCESSES)), "--dist", "loadfile"] if shared_out else []
        say(f"{name}: running its tests …")
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "outcome.json"
            started = time.monotonic()
            command = [python, "-m", "pytest", *folders, *words, "--outcome", file]
            code = subprocess.run(command, cwd=ROOT, env=surroundings, check=False).returncode
            told = json.loads(file.read_text(encoding="utf-8")) if file.exists() else {}
        outcomes.append(Outcome(name, code, time.monotonic() - started, **told))
    say("")
    for outcome in outcomes:
        say(str(outcome))
    return next((outcome.code for outcome in outcomes if outcome.code), 0)


def _cores() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
