"""What comes through npm, pinned: the Python that runs in the browser, the fonts, and the tests' own tools.

npm uses its ordinary configuration. The packages land in the git-ignored cache; the files that reach the site are
checked against the SHA-256 below, so that every machine builds the same site.
"""

import hashlib
import json
import shutil
from pathlib import Path

from .environment import one_at_a_time
from .node import Node
from .places import CACHE
from .say import Missing, run

FOR_THE_SITE = {
    "pyodide": "314.0.7",
    "@fontsource/alegreya-sans": "5.3.0",
    "@fontsource/stix-two-text": "5.3.0",
}
FOR_THE_TESTS = {
    "axe-core": "4.14.1",
    "typescript": "7.0.2",
}

SHA256 = {
    "pyodide/pyodide.mjs": "6f1d60f7bf529beb300f0f47983c921d3982363640ba20af0e38efdddbc66109",
    "pyodide/pyodide.asm.mjs": "f7cdc8ece80678ceb712f8e65ebe6d3a83203a180c399865f49612a051693635",
    "pyodide/pyodide.asm.wasm": "cc36e3cab04fdfc9a63ff13eb52eae2b911bf46c025cc7b281f394bd3de1d5e6",
    "pyodide/python_stdlib.zip": "fa1957e5777068fc4f7437f96d860ae2fbe9c19732ba06c84e004ec16dd7dd7a",
}

INSTALL = ("install", "--ignore-scripts", "--no-audit", "--no-fund", "--no-package-lock", "--loglevel=error")


def ensure(wanted: dict[str, str], node: Node | None, *, folder: str) -> Path | None:
    """Put the pinned packages into the cache and return their `node_modules`.

    Without `node` nothing is fetched: returns None when the cache does not hold them.
    """
    home = CACHE / folder
    modules = home / "node_modules"
    stamp = home / "fetched.json"
    with one_at_a_time(folder):
        try:
            if json.loads(stamp.read_text(encoding="utf-8")) == wanted:
                return modules
        except (OSError, ValueError):
            pass
        if node is None:
            return None
        shutil.rmtree(home, ignore_errors=True)
        home.mkdir(parents=True)
        (home / "package.json").write_text(json.dumps({"private": True, "dependencies": wanted}), encoding="utf-8")
        run(
            [*node.npm, *INSTALL],
            doing=f"Fetching {', '.join(wanted)} through npm (once)",
            otherwise="npm could not fetch what is needed. It uses your own npm settings; is the network there?",
            folder=home,
            environment=node.environment(),
        )
        _verify(modules, wanted)
        stamp.write_text(json.dumps(wanted), encoding="utf-8")
    return modules


def _verify(modules: Path, wanted: dict[str, str]) -> None:
    for name, digest in SHA256.items():
        if name.split("/")[0] not in wanted:
            continue
        got = hashlib.sha256((modules / name).read_bytes()).hexdigest()
        if got != digest:
            raise Missing(f"{name} as npm delivered it is not the file this project was made with (SHA-256 {got}).")
