"""What `python3 tests` does: the set-up of `python3 web` with the test extras and a browser, then pytest."""

import json
import os
import subprocess
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
    """Run pytest, or what the first word names, and return its exit code."""
    paths = os.pathsep.join([str(ENGINE), str(WEB)])
    surroundings = {**os.environ, "PYTHONPATH": paths, "PYTHONIOENCODING": "utf-8"}
    other = OTHERS.get(arguments[0]) if arguments else None
    what = [ROOT / "tests" / arguments[0], *arguments[1:]] if other else ["-m", "pytest", *arguments]
    say(other or "Running the tests …")
    try:
        return subprocess.run([python, *what], cwd=ROOT, env=surroundings, check=False).returncode
    except KeyboardInterrupt:
        return 128 + 2
