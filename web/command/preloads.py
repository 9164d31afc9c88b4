"""Tells the browser of all modules of the page at once; else it learns of each only when its importer has come."""

import posixpath
import re
from pathlib import Path

STATIC_IMPORT = re.compile(r"""^\s*(?:import|export)\b[^'"()]*?["'](\.{1,2}/[^"']+)["'];""", re.MULTILINE)
HEAD_END = "</head>"


def modules_reached(inside: Path, entry: str) -> list[str]:
    """Addresses, relative to the folder of the build, of the modules that `entry` imports, itself left out."""
    reached = [entry]
    for module in reached:
        text = (inside / module).read_text(encoding="utf-8")
        for address in STATIC_IMPORT.findall(text):
            target = posixpath.normpath(posixpath.join(posixpath.dirname(module), address))
            if target not in reached:
                reached.append(target)
    return reached[1:]


def add(page: str, inside: Path, entry: str, prefix: str) -> str:
    """The page with a `modulepreload` link for each of those modules at the end of its head."""
    links = "".join(
        f'  <link rel="modulepreload" href="{prefix}{name}">\n  ' for name in modules_reached(inside, entry)
    )
    return page.replace(HEAD_END, links + HEAD_END, 1)
