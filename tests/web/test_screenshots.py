"""The pictures of the README can be taken from the page as it is now, and none is missing or unused."""

import re
import struct
import sys
from pathlib import Path

from playwright.sync_api import Browser

SCREENSHOTS = Path(__file__).parents[1] / "screenshots"
sys.path.insert(0, str(SCREENSHOTS))

from states import STATES, take  # noqa: E402 - the path above must be set first


def test_every_picture_of_the_readme_can_be_taken_anew(browser: Browser, site_url: str, tmp_path: Path) -> None:
    taken = take(browser, site_url, tmp_path)
    sizes = [struct.unpack(">II", path.read_bytes()[16:24]) for path in taken]
    assert sizes == [(state.width, state.height) for state in STATES]


def test_the_readme_shows_exactly_the_pictures_there_are(root: Path) -> None:
    shown = set(re.findall(r"\(tests/screenshots/([^)]+)\)", (root / "README.md").read_text(encoding="utf-8")))
    assert shown == {path.name for path in SCREENSHOTS.glob("*.png")}
    assert shown == {f"{state.name}-{state.width}x{state.height}.png" for state in STATES}
