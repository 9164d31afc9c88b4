"""The project's own Python environment, `.venv`: made once, brought up to date when `pyproject.toml` changes."""

import contextlib
import hashlib
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from .places import CACHE, ENVIRONMENT, ROOT
from .say import Missing, run

NO_PIP = (
    "This Python has neither pip nor the module that brings it (ensurepip). Install your system's package for it "
    "(on Debian and Ubuntu: python3-venv) and run the command again."
)


def python_of(environment: Path) -> Path:
    """The interpreter inside an environment, on this system."""
    return environment / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def ensure(extras: tuple[str, ...] = ()) -> Path:
    """Make `.venv` hold the project and `extras`, and return its interpreter; does nothing when it already does."""
    python = python_of(ENVIRONMENT)
    with one_at_a_time("environment"):
        wanted = _fingerprint()
        held = _read_stamp()
        if python.exists() and held.get("for") == wanted and set(extras) <= set(held.get("extras", [])):
            return python
        if not python.exists():
            make(ENVIRONMENT)
        every = sorted(set(extras) | set(held.get("extras", [])))
        what = f"{ROOT}[{','.join(every)}]" if every else str(ROOT)
        with_tests = " and what the tests need" if "test" in every else ""
        pip_install(python, ["--editable", what], doing=f"Installing the engine{with_tests} into .venv (once)")
        _stamp().write_text(json.dumps({"for": wanted, "extras": every}), encoding="utf-8")
    return python


def make(environment: Path) -> None:
    """Make a bare virtual environment, without pip where this Python cannot bring it."""
    with_pip = [sys.executable, "-m", "venv", environment]
    try:
        run(with_pip, doing="Making a Python environment in .venv", otherwise="The environment could not be made:")
    except Missing:
        run(
            [sys.executable, "-m", "venv", "--clear", "--without-pip", environment],
            doing="Making it again without its own pip",
            otherwise="A Python environment could not be made in .venv:",
        )


def pip_install(python: Path, what: list[str], *, doing: str) -> None:
    """Install with the environment's own pip, else with this Python's pip working on that environment."""
    if _has_pip(str(python)):
        pip = [str(python), "-m", "pip"]
    elif _has_pip(sys.executable):
        pip = [sys.executable, "-m", "pip", "--python", str(python)]
    else:
        raise Missing(NO_PIP)
    run(
        [*pip, "install", "--quiet", "--disable-pip-version-check", "--no-input", *what],
        doing=doing,
        otherwise="pip could not install what is needed. It uses your own pip settings; is the network there?",
    )


@contextlib.contextmanager
def one_at_a_time(what: str) -> Iterator[None]:
    """Hold a lock over a shared folder, so that two commands started together do not write it at once."""
    CACHE.mkdir(parents=True, exist_ok=True)
    with (CACHE / f"{what}.lock").open("w") as lock:
        if os.name == "nt":
            import msvcrt

            msvcrt.locking(lock.fileno(), msvcrt.LK_LOCK, 1)
        else:
            import fcntl

            fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def _has_pip(python: str) -> bool:
    return subprocess.run([python, "-m", "pip", "--version"], capture_output=True, check=False).returncode == 0


def _fingerprint() -> str:
    """Changes when the requirements, the interpreter or the place of the checkout change."""
    parts = [(ROOT / "pyproject.toml").read_text(encoding="utf-8"), sys.version, str(ROOT)]
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()


def _stamp() -> Path:
    return ENVIRONMENT / "steelyard-installed.json"


def _read_stamp() -> dict[str, object]:
    try:
        return json.loads(_stamp().read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
