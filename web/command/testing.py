"""What `python3 tests` does: the set-up of `python3 web` with the test extras and a browser, then pytest."""

import json
import os
import subprocess

from . import browser, environment, node, packages, site
from .main import EXIT_MISSING
from .places import CACHE, ENGINE, ROOT, WEB
from .say import Missing, complain, say

# Where the tests find what was set up: {"browser", "axe", "tsc", "node"}.
SETTING = CACHE / "for-the-tests.json"


def main(arguments: list[str]) -> int:
    """Set up and run the tests (or the benchmarks, after the word `bench`); return the exit code of that run."""
    try:
        python = environment.ensure(("build", "test"))
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
    paths = os.pathsep.join([str(ENGINE), str(WEB)])
    surroundings = {**os.environ, "PYTHONPATH": paths, "PYTHONIOENCODING": "utf-8"}
    benchmarks = arguments[:1] == ["bench"]
    what = [ROOT / "tests" / "bench", *arguments[1:]] if benchmarks else ["-m", "pytest", *arguments]
    say("Running the benchmarks …" if benchmarks else "Running the tests …")
    try:
        return subprocess.run([python, *what], cwd=ROOT, env=surroundings, check=False).returncode
    except KeyboardInterrupt:
        return 128 + 2
