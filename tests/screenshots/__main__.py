"""`python3 tests screenshots`: take the pictures of the README anew, from the real page in a real browser."""

import json
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
for folder in (HERE, ROOT / "tests" / "web", ROOT / "web"):
    sys.path.insert(0, str(folder))

from command import server, site  # noqa: E402 - the path above must be set first
from playwright.sync_api import sync_playwright  # noqa: E402
from states import take  # noqa: E402


def main() -> int:
    """Serve the site, take every picture, say where each one is."""
    setting = json.loads((ROOT / ".build" / "for-the-tests.json").read_text(encoding="utf-8"))
    running = server.start(site.ensure(Path(sys.executable)), 0)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=setting["browser"], args=["--no-sandbox"])
        for path in take(browser, f"http://{server.HOST}:{running.server_address[1]}/", HERE):
            print(path.relative_to(ROOT))
        browser.close()
    running.shutdown()
    running.server_close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
