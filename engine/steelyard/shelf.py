"""The shelf of scenarios that come with the program.

Installed, they lie in the package; in a source tree, in `scenarios/` beside `engine/`.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any

from . import document
from .errors import SteelyardError
from .model import Sketch


@dataclass(frozen=True, slots=True)
class Listing:
    """One scenario as the shelf shows it; `task` is what to try first."""

    slug: str
    title: str
    question: str
    task: str


def folder() -> Traversable:
    """Where the scenarios are; raises `SteelyardError` when they are in neither place.

    The package may be a zip (in the browser), so its own scenarios are read as resources, not as files.
    """
    source_tree = Path(__file__).parents[2] / "scenarios"
    for place in (resources.files(__package__) / "scenarios", source_tree):
        if place.is_dir():
            return place
    message = "The scenarios are missing from this installation."
    raise SteelyardError("shelf.missing", "", message, "Install Steelyard again.")


def listing() -> tuple[Listing, ...]:
    """All scenarios in the order of the shelf."""
    return tuple(
        Listing(entry["slug"], entry["sketch"]["title"], entry["sketch"].get("question", ""), entry.get("task", ""))
        for entry in sorted(_entries().values(), key=lambda entry: (entry["order"], entry["slug"]))
    )


def load(slug: str) -> Sketch:
    """The sketch of one scenario; raises `SteelyardError` for a slug that is not on the shelf."""
    entries = _entries()
    if slug not in entries:
        names = ", ".join(entries)
        message = f'The scenario must be one of those on the shelf: got "{slug}".'
        raise SteelyardError("shelf.unknown", slug, message, f"They are {names}.")
    return document.from_data(entries[slug]["sketch"])


@cache
def _entries() -> dict[str, dict[str, Any]]:
    found: dict[str, dict[str, Any]] = {}
    for path in folder().iterdir():
        if not path.name.endswith(".json"):
            continue
        entry = json.loads(path.read_text(encoding="utf-8"))
        found[entry["slug"]] = entry
    return found
