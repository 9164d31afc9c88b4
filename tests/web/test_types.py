"""The page's code agrees with the types its comments state."""

import subprocess
from pathlib import Path
from typing import Any

import pytest

STRICTLY = (
    *("--noEmit", "--allowJs", "--checkJs", "--strict", "--skipLibCheck"),
    *("--target", "es2024", "--module", "esnext", "--moduleResolution", "bundler"),
)


@pytest.mark.parametrize(
    ("entry", "surroundings"),
    [
        ("web/app/main.js", "es2024,dom,dom.iterable"),
        ("web/app/shade.js", "es2024,dom,dom.iterable"),
        ("web/app/engine/worker.js", "es2024,dom,dom.iterable,webworker"),
        ("web/sw.js", "es2024,webworker"),
    ],
)
def test_types_hold_in_everything_reached_from(
    root: Path, setting: dict[str, Any], entry: str, surroundings: str
) -> None:
    checked = subprocess.run(
        [*setting["node"], setting["tsc"], *STRICTLY, "--lib", surroundings, entry],
        cwd=root,
        capture_output=True,
        text=True,
        check=False,
    )
    assert checked.returncode == 0, checked.stdout
