"""A Chromium for the tests: an installed one, else playwright's own, else from the system's package manager."""

import os
import shutil
import subprocess
from pathlib import Path

from .say import Missing, run, say

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
MAC_PLACES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
)
# A test run that is told where the browser is does not look for one.
VARIABLE = "STEELYARD_TEST_BROWSER"
ASK_PLAYWRIGHT = (
    "from playwright.sync_api import sync_playwright\n"
    "with sync_playwright() as playwright: print(playwright.chromium.executable_path)"
)
INSTALLERS = {
    "apt-get": (["apt-get", "update", "-q"], ["apt-get", "install", "-y", "-q", "chromium"]),
    "dnf": (["dnf", "install", "-y", "-q", "chromium"],),
    "apk": (["apk", "add", "-q", "chromium"],),
    "pacman": (["pacman", "-Sy", "--noconfirm", "chromium"],),
}


def ensure(python: Path) -> Path:
    """The browser's executable; raises `Missing` when there is none and none can be had."""
    found = _installed() or _playwrights(python)
    if found:
        return found
    say("No Chromium or Chrome is installed; asking playwright for its own …")
    subprocess.run([python, "-m", "playwright", "install", "chromium"], capture_output=True, check=False)
    found = _playwrights(python)
    if found:
        return found
    installer = next((name for name in INSTALLERS if shutil.which(name)), None)
    if installer and hasattr(os, "geteuid") and os.geteuid() == 0:
        for command in INSTALLERS[installer]:
            run(
                command,
                doing=f"Installing Chromium with {installer}",
                otherwise=f"{installer} could not install Chromium:",
                environment={**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
            )
        found = _installed()
        if found:
            return found
    raise Missing(
        "The tests need a browser and none could be had. Install Chromium or Chrome, "
        f"or name one in the environment variable {VARIABLE}, and run the command again."
    )


def _installed() -> Path | None:
    told = os.environ.get(VARIABLE)
    if told:
        if not Path(told).is_file():
            raise Missing(f"{VARIABLE} names {told}, and there is no such file.")
        return Path(told)
    on_path = next((path for path in map(shutil.which, NAMES) if path), None)
    return Path(on_path) if on_path else next((Path(place) for place in MAC_PLACES if Path(place).exists()), None)


def _playwrights(python: Path) -> Path | None:
    answer = subprocess.run([python, "-c", ASK_PLAYWRIGHT], capture_output=True, text=True, check=False)
    path = Path(answer.stdout.strip() or ".")
    return path if path.is_file() else None
