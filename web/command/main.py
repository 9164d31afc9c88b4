"""The `python3 web` command line."""

import argparse
import os
import sys
import threading
import webbrowser
from pathlib import Path

from . import environment, fonts, node, packages, server, site
from .places import CACHE
from .say import Missing, complain, say

EXIT_MISSING = 3
CURRENT = CACHE / "current"


def main(arguments: list[str]) -> int:
    """Do what the command line asks and return the exit code: 0 done, 2 misused, 3 something is missing."""
    parser = argparse.ArgumentParser(prog="python3 web", description="Set up, build and serve the sketcher.")
    parser.add_argument("--port", type=int, help=f"the port on {server.HOST} ({server.PORT} if not given)")
    parser.add_argument("--no-open", action="store_true", help="do not open a browser")
    actions = parser.add_subparsers(dest="action", metavar="ACTION")
    build = actions.add_parser("build", help="leave the site as a folder for any web server")
    build.add_argument("--out", type=Path, required=True, metavar="DIR")
    actions.add_parser("fonts", help="rewrite the table of advance widths from the fonts (for developers)")
    chosen = parser.parse_args(arguments)
    try:
        if chosen.action == "build":
            out = site.leave(environment.ensure(), chosen.out)
            say(f"The site is in {out}. Serve that folder over HTTPS with any web server.")
        elif chosen.action == "fonts":
            _write_advances()
        else:
            _serve(chosen.port, open_browser=not chosen.no_open)
    except Missing as missing:
        complain(str(missing))
        return EXIT_MISSING
    except KeyboardInterrupt:
        say("")
    return 0


def _serve(port: int | None, *, open_browser: bool) -> None:
    folder = site.ensure(environment.ensure())
    # A server that already runs looks here at every request, so it serves the new site at once.
    CURRENT.write_text(folder.name, encoding="utf-8")
    wanted = server.PORT if port is None else port
    for tried in range(wanted, wanted + server.PORTS_TRIED):
        try:
            running = server.start(current_site, tried)
        except (OSError, OverflowError) as error:
            if server.is_ours(tried):
                say(f"Steelyard is already served from this folder: http://{server.HOST}:{tried}/")
                _open(tried, open_browser)
                return
            if isinstance(error, PermissionError | OverflowError):
                raise Missing(f"Port {tried} cannot be used here ({error}). Choose another with --port.") from error
            say(f"Port {tried} is taken by another program; trying {tried + 1}.")
            continue
        at = running.server_address[1]
        if at != wanted and wanted != 0:
            say("Sketches kept in the browser belong to a port: those kept under another are not shown here.")
        say(f"Steelyard is at http://{server.HOST}:{at}/ (stop it with Ctrl-C)")
        _open(at, open_browser)
        try:
            threading.Event().wait()
        finally:
            running.shutdown()
            running.server_close()
    raise Missing(f"Ports {wanted} to {wanted + server.PORTS_TRIED - 1} are all taken. Choose another with --port.")


def current_site() -> Path:
    """The folder of the site that was asked for last."""
    return site.SITES / CURRENT.read_text(encoding="utf-8")


def _open(port: int, wanted: bool) -> None:
    on_a_screen = sys.platform in ("darwin", "win32") or os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")
    if wanted and on_a_screen:
        webbrowser.open(f"http://{server.HOST}:{port}/")


def _write_advances() -> None:
    python = environment.ensure(("build",))
    modules = packages.ensure(packages.FOR_THE_SITE, node.find(python), folder="npm-site")
    if modules is None:
        raise Missing("The fonts are not there.")
    if Path(sys.prefix).resolve() != environment.ENVIRONMENT.resolve():
        # fontTools lives in the environment, not in the Python that started us.
        os.execv(python, [str(python), str(Path(__file__).parents[1]), "fonts"])
    fonts.ADVANCES.write_text(fonts.advances_text(modules), encoding="utf-8")
    say(f"Wrote {fonts.ADVANCES}.")
