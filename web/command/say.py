"""Plain sentences to the person at the terminal, and the one way to stop with exit code 3."""

import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

PROGRESS_EVERY_S = 5.0
LINES_OF_A_FAILURE = 12
LETTERS_OF_A_LINE = 300


class Missing(Exception):
    """Something this machine lacks: the message is a plain sentence saying what and what to do. Exit code 3."""


def say(sentence: str) -> None:
    """Print one sentence at once."""
    print(sentence, flush=True)


def run(
    arguments: Sequence[str | Path],
    *,
    doing: str,
    otherwise: str,
    folder: Path | None = None,
    environment: Mapping[str, str] | None = None,
) -> str:
    """Run a long step, saying every few seconds that it still runs; return its standard output.

    `doing` is the sentence shown first (nothing is shown when it is empty); `otherwise` opens the sentence of the
    `Missing` raised when the program fails, followed by the last lines it printed.
    """
    if doing:
        say(f"{doing} …")
    started = time.monotonic()
    try:
        process = subprocess.Popen(
            [str(argument) for argument in arguments],
            cwd=folder,
            env=dict(environment) if environment is not None else None,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            encoding="utf-8",
            errors="replace",
        )
    except OSError as error:
        raise Missing(f"{otherwise} {arguments[0]} could not be started: {error}.") from error
    while True:
        try:
            printed, errors = process.communicate(timeout=PROGRESS_EVERY_S)
            break
        except subprocess.TimeoutExpired:
            if doing:
                say(f"  still at it after {time.monotonic() - started:.0f} s")
        except BaseException:
            process.kill()
            raise
    if process.returncode != 0:
        tail = "\n".join(
            "  " + line[:LETTERS_OF_A_LINE]
            for line in f"{printed}\n{errors}".strip().splitlines()[-LINES_OF_A_FAILURE:]
        )
        raise Missing(f"{otherwise}\n{tail}" if tail else otherwise)
    return printed


def complain(sentence: str) -> None:
    """Print one sentence to the error stream."""
    print(sentence, file=sys.stderr, flush=True)
