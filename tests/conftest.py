"""What every test may use: where things are, and what `python3 tests` has set up."""

import json
import sys
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[1]

# Tests run with plain pytest too, once `python3 tests` has set things up.
for folder in (ROOT / "web", ROOT / "engine"):
    if str(folder) not in sys.path:
        sys.path.insert(0, str(folder))


@pytest.fixture(scope="session")
def root() -> Path:
    """The checkout."""
    return ROOT


@pytest.fixture(scope="session")
def setting() -> dict[str, Any]:
    """What the set-up found: `browser`, `axe`, `tsc`, `node`."""
    file = ROOT / ".build" / "for-the-tests.json"
    if not file.exists():
        pytest.fail("Nothing is set up. Run `python3 tests` once.")
    return dict(json.loads(file.read_text(encoding="utf-8")))
