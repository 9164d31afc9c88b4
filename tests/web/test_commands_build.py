"""The built folder: the same from the same sources, whole, and nothing else in it."""

import hashlib
import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from command import fonts, site
from command.places import CACHE

FETCHED_ADDRESS = re.compile(r"""(?:\bfrom\s*|\bimport\s*\(?\s*|\bfetch\(\s*|url\(\s*|(?:src|href)=)["']([^"']*)["']""")
ALLOWED_AT_THE_TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "web", "engine", "tests", "scenarios"}


@pytest.fixture(scope="module")
def inside(built_site: Path) -> Path:
    return next((built_site / "v").iterdir())


@pytest.fixture(scope="module")
def manifest(inside: Path) -> dict[str, Any]:
    return dict(json.loads((inside / "manifest.json").read_text(encoding="utf-8")))


def test_the_same_sources_give_the_same_files_under_the_same_id(
    built_site: Path, manifest: dict[str, Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(site, "SITES", CACHE / tmp_path.name)
    again = site.ensure(Path(sys.executable))
    try:
        other = json.loads((again / "v" / again.name / "manifest.json").read_text(encoding="utf-8"))
        assert other == manifest
    finally:
        site.shutil.rmtree(again.parent)


def test_a_change_in_any_source_gives_another_id(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    before = site.identity()
    ordinary = list(site._inputs())
    changed = tmp_path / "changed.js"
    changed.write_bytes(ordinary[0].read_bytes() + b" ")
    monkeypatch.setattr(site, "ROOT", Path("/"))
    monkeypatch.setattr(site, "_inputs", lambda: iter(ordinary))
    same_place = site.identity()
    monkeypatch.setattr(site, "_inputs", lambda: iter([*ordinary, changed]))
    assert site.identity() != same_place
    assert len(before) == site.ID_LENGTH


def test_the_manifest_names_every_file_with_its_digest(
    built_site: Path, inside: Path, manifest: dict[str, Any]
) -> None:
    assert manifest["build"] == inside.name == built_site.name
    there = {file.relative_to(inside).as_posix() for file in inside.rglob("*") if file.is_file()} - {"manifest.json"}
    assert set(manifest["files"]) == there
    assert set(manifest["root"]) == {"index.html"}
    for folder, entries in ((inside, manifest["files"]), (built_site, manifest["root"])):
        for name, entry in entries.items():
            data = (folder / name).read_bytes()
            assert (entry["sha256"], entry["bytes"]) == (hashlib.sha256(data).hexdigest(), len(data)), name


def test_only_the_page_and_the_service_worker_are_outside_the_build(built_site: Path) -> None:
    assert sorted(path.name for path in built_site.iterdir()) == ["index.html", "sw.js", "v"]
    for name in ("index.html", "sw.js"):
        text = (built_site / name).read_text(encoding="utf-8")
        assert site.TOKEN not in text
        assert built_site.name in text


def test_nothing_in_the_site_is_fetched_from_elsewhere(built_site: Path, inside: Path) -> None:
    texts = (path for path in inside.rglob("*") if path.suffix in (".js", ".css", ".json"))
    ours = [path for path in texts if path.parent.name != "python"]
    for file in [built_site / "index.html", built_site / "sw.js", *ours]:
        text = file.read_text(encoding="utf-8")
        addresses = FETCHED_ADDRESS.findall(text)
        assert [address for address in addresses if address.startswith("http")] == [], file
        assert [address for address in addresses if address.startswith("/")] == [], "a site may live in a folder"


def test_the_page_names_every_module_it_will_import(built_site: Path, inside: Path) -> None:
    page = (built_site / "index.html").read_text(encoding="utf-8")
    preloaded = re.findall(rf'rel="modulepreload" href="v/{built_site.name}/([^"]+)"', page)
    assert all((inside / name).is_file() for name in preloaded)
    assert {"app/engine/client.js", "app/engine/build.js"} <= set(preloaded)
    assert len(preloaded) == len(set(preloaded))


def test_the_fonts_come_with_their_licences(inside: Path) -> None:
    stylesheet = (inside / "styles" / "fonts.css").read_text(encoding="utf-8")
    named = set(re.findall(r"\.\./fonts/([^\"]+)", stylesheet))
    assert named == {path.name for path in (inside / "fonts").glob("*.woff2")}
    for licence in ("alegreya-sans-licence.txt", "stix-two-text-licence.txt"):
        assert "SIL OPEN FONT LICENSE" in (inside / "fonts" / licence).read_text(encoding="utf-8").upper()


def test_the_table_of_advance_widths_is_that_of_the_fonts() -> None:
    assert fonts.ADVANCES.read_text(encoding="utf-8") == fonts.advances_text(CACHE / "npm-site" / "node_modules")


def test_upright_figures_in_the_table_are_of_equal_width() -> None:
    table = json.loads(fonts.ADVANCES.read_text(encoding="utf-8"))
    for face, entry in table.items():
        if "|italic|" in face:
            continue  # the italic's own tabular figures differ by up to seven units
        assert len({entry["advances"][figure] for figure in "0123456789"}) == 1, face


def test_the_checkout_has_no_other_thing_at_its_top(root: Path) -> None:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=root, capture_output=True, text=True, check=True).stdout
    top = {name.split("/")[0] for name in filter(None, listed.split("\0"))}
    assert {name for name in top if not name.startswith(".")} <= ALLOWED_AT_THE_TOP
