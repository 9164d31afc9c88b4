"""Builds the static site.

    index.html, sw.js          from web/, with the token `__BUILD__` replaced by the build's id; the page
                               also gets a modulepreload link for every module it will import
    v/<build>/app, styles, …   the rest of web/, as it is; modules refer to each other by relative addresses
    v/<build>/styles/          fonts.css and theme.css are written here by the build
    v/<build>/fonts/           subset woff2 files and their licences
    v/<build>/python/          the browser's Python, trimmed standard library (python.zip), engine.zip, about.json
    v/<build>/opening.json     the engine's state for the opening scenario, so that a picture is there at once
    v/<build>/manifest.json    {build, files: {path: {sha256, bytes}}, root: {...}} of all the files above

The id is a digest of everything that goes in, so the same input is the same site and is not built twice.
"""

import hashlib
import json
import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from . import fonts, node, packages, preloads
from .environment import one_at_a_time
from .places import CACHE, ENGINE, ROOT, SCENARIOS, WEB
from .say import Missing, run, say

TOKEN = "__BUILD__"
ENTRY = "app/main.js"
AT_THE_ROOT = ("index.html", "sw.js")
NOT_SHIPPED = ("command", "__main__.py", "__pycache__", "tsconfig.json")
SITES = CACHE / "sites"
# Earlier sites are kept for servers that still show them: so many at least, and any that was used within the hour.
BUILDS_KEPT = 4
KEPT_FOR_S = 3600.0
ID_LENGTH = 12
RUNTIME_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")
LICENCE_NOTE = """The files in this folder and beside it that this project did not write:

pyodide.mjs, pyodide.asm.mjs, pyodide.asm.wasm: Pyodide {version}, Mozilla Public License 2.0,
    source: the npm package "pyodide" and its repository.
python.zip and the interpreter inside pyodide.asm.wasm: CPython 3.14, Python Software Foundation License 2.
../fonts: Alegreya Sans and STIX Two Text, SIL Open Font License 1.1, texts beside the fonts.
"""


def ensure(python: Path) -> Path:
    """Return the folder of the site for the present sources, building it only when there is none."""
    build = identity()
    folder = SITES / build
    if not (folder / "index.html").exists():
        with one_at_a_time("site"):
            if not (folder / "index.html").exists():
                say(f"Building the site ({build}) …")
                _build(python, build, folder)
    os.utime(folder)
    _forget_old(folder)
    return folder


def leave(python: Path, out: Path) -> Path:
    """Build and leave a copy in `out`, which must be empty, absent, or hold an earlier build."""
    out = out.resolve()
    if out.exists() and not out.is_dir():
        raise Missing(f"{out} is a file. Name a folder for the site.")
    if out.is_dir() and any(out.iterdir()) and not (out / "v").is_dir():
        raise Missing(f"{out} is not empty and holds no site. Name an empty or a new folder.")
    folder = ensure(python)
    for name in AT_THE_ROOT:
        (out / name).unlink(missing_ok=True)
    shutil.rmtree(out / "v", ignore_errors=True)
    shutil.copytree(folder, out, dirs_exist_ok=True)
    return out


def identity() -> str:
    """The id of the site that the present sources make."""
    digest = hashlib.sha256(json.dumps([packages.FOR_THE_SITE, packages.SHA256], sort_keys=True).encode())
    for file in _inputs():
        digest.update(f"\0{file.relative_to(ROOT).as_posix()}\0".encode())
        digest.update(hashlib.sha256(file.read_bytes()).digest())
    return digest.hexdigest()[:ID_LENGTH]


def _inputs() -> Iterator[Path]:
    for folder in (WEB, ENGINE / "steelyard", SCENARIOS):
        for file in sorted(folder.rglob("*")):
            if file.is_file() and file.suffix != ".pyc":
                yield file


def _build(python: Path, build: str, folder: Path) -> None:
    serving = node.find(python)
    modules = packages.ensure(packages.FOR_THE_SITE, serving, folder="npm-site")
    if modules is None:
        raise Missing("The packages for the site are not there.")
    SITES.mkdir(parents=True, exist_ok=True)
    temporary = Path(tempfile.mkdtemp(prefix=f"{build}-", dir=CACHE))
    try:
        inside = temporary / "v" / build
        _copy_web(inside)
        _copy_fonts(modules, inside)
        _pack_python(serving, modules, inside / "python")
        _ask_the_engine(python, inside)
        for name in AT_THE_ROOT:
            text = (WEB / name).read_text(encoding="utf-8").replace(TOKEN, build)
            if name == "index.html":
                text = preloads.add(text, inside, ENTRY, f"v/{build}/")
            (temporary / name).write_text(text, encoding="utf-8", newline="\n")
        _write_manifest(temporary, inside, build)
        shutil.rmtree(folder, ignore_errors=True)
        temporary.chmod(0o755)
        temporary.rename(folder)
    finally:
        shutil.rmtree(temporary, ignore_errors=True)


def _copy_web(inside: Path) -> None:
    inside.mkdir(parents=True)
    for entry in sorted(WEB.iterdir()):
        if entry.name in (*NOT_SHIPPED, *AT_THE_ROOT):
            continue
        if entry.is_dir():
            shutil.copytree(entry, inside / entry.name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy2(entry, inside / entry.name)
    (inside / "styles").mkdir(exist_ok=True)


def _copy_fonts(modules: Path, inside: Path) -> None:
    (inside / "fonts").mkdir()
    for face in fonts.FACES:
        for script in fonts.SCRIPTS:
            shutil.copyfile(face.file_in(modules, script), inside / "fonts" / face.file_name(script))
    for name, text in fonts.licences(modules).items():
        (inside / "fonts" / name).write_text(text, encoding="utf-8")
    (inside / "styles" / "fonts.css").write_text(fonts.stylesheet(), encoding="utf-8")


def _pack_python(serving: node.Node, modules: Path, inside: Path) -> None:
    inside.mkdir()
    for name in RUNTIME_FILES:
        shutil.copyfile(modules / "pyodide" / name, inside / name)
    note = LICENCE_NOTE.format(version=packages.FOR_THE_SITE["pyodide"])
    (inside / "LICENCES.txt").write_text(note, encoding="utf-8")
    here = Path(__file__).parent
    packed = run(
        [
            *serving.node,
            here / "pack.mjs",
            modules / "pyodide",
            ENGINE,
            SCENARIOS,
            here / "pack.py",
            here / "packed_start.py",
            inside,
        ],
        doing="  compiling the engine and the part of the standard library it uses",
        otherwise="The engine could not be compiled for the browser:",
        environment=serving.environment(),
    )
    say(f"  packed {packed.strip().splitlines()[-1]}")


def _ask_the_engine(python: Path, inside: Path) -> None:
    """Write what the engine itself knows: the theme's stylesheet and the opening picture."""
    environment = {**os.environ, "PYTHONPATH": str(ENGINE), "PYTHONIOENCODING": "utf-8", "PYTHONDONTWRITEBYTECODE": "1"}
    for arguments, target in (
        (["-m", "steelyard.picture.theme"], inside / "styles" / "theme.css"),
        (["-m", "steelyard.bridge", "opening"], inside / "opening.json"),
    ):
        text = run(
            [python, *arguments],
            doing="",
            otherwise=f"The engine did not give {target.name} (python {' '.join(arguments)}):",
            environment=environment,
        )
        target.write_text(text, encoding="utf-8", newline="\n")


def _write_manifest(temporary: Path, inside: Path, build: str) -> None:
    def described(folder: Path) -> dict[str, dict[str, object]]:
        return {
            file.relative_to(folder).as_posix(): {
                "sha256": hashlib.sha256(file.read_bytes()).hexdigest(),
                "bytes": file.stat().st_size,
            }
            for file in sorted(folder.rglob("*"))
            if file.is_file() and (folder is inside or inside not in file.parents)
        }

    root = {name: entry for name, entry in described(temporary).items() if name != "sw.js"}
    manifest = {"build": build, "root": root, "files": described(inside)}
    (inside / "manifest.json").write_text(json.dumps(manifest, indent=1), encoding="utf-8")


def _forget_old(folder: Path) -> None:
    others = sorted(
        ((path.stat().st_mtime, path) for path in SITES.iterdir() if path != folder),
        reverse=True,
    )
    for used, path in others[BUILDS_KEPT - 1 :]:
        if used < time.time() - KEPT_FOR_S:
            shutil.rmtree(path, ignore_errors=True)
