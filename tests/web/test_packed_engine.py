"""The engine as it is packed for the browser, with only the standard modules it needs, answers like the one here."""

import json
import math
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from command.places import CACHE
from steelyard.bridge import Door

# Two builds of the C library may differ in the last place of a sine; nothing that is shown is that fine.
RELATIVE = 1e-9
SMALL = 1e-9


def conversation() -> Iterator[dict[str, Any]]:
    """Every scenario opened, seen in both views, taken hold of, changed, undone, saved; and what goes wrong."""
    yield {"do": "show", "width_px": 863, "height_px": 522, "strips_px": 863}
    scout = Door()
    hello = json.loads(scout.handle('{"seq": 0, "do": "hello"}'))
    json.loads(scout.handle('{"seq": 0, "do": "show", "width_px": 863, "height_px": 522, "strips_px": 863}'))
    for scenario in hello["scenarios"]:
        opened = json.loads(scout.handle(json.dumps({"seq": 0, "do": "scenario", "slug": scenario["slug"]})))
        yield {"do": "scenario", "slug": scenario["slug"]}
        yield {"do": "show", "view": "extended"}
        for target in [target for target in opened["picture"]["targets"] if not target.get("locked")][:6]:
            x_px, y_px = target["points_px"][0]
            yield {"do": "show", "selected": target["of"]}
            yield {"do": "here", "point_px": [x_px, y_px], "catch_px": 12}
            yield {"do": "begin", "of": target["of"], "grip": target["grip"], "point_px": [x_px, y_px]}
            yield {"do": "preview", "point_px": [x_px + 31, y_px - 17], "snap": True, "catch_px": 12}
            yield {"do": "preview", "point_px": [x_px + 32.5, y_px - 17.5], "snap": False, "catch_px": 12}
            yield {"do": "commit"}
            yield {"do": "undo"}
            yield {"do": "redo"}
        yield {"do": "save"}
        yield {"do": "open", "document": opened["document"]}
    yield {"do": "new"}
    for group in hello["tools"]:
        for tool in group["tools"]:
            yield {"do": "begin", "tool": tool["name"], "point_px": [200, 200]}
            yield {"do": "preview", "point_px": [500, 260], "snap": True, "catch_px": 12}
            yield {"do": "commit"}
    yield {"do": "look", "fit": True}
    yield {"do": "nudge", "dx": 1, "dy": 0}
    yield {"do": "open", "document": '{"format": "no such thing"'}
    yield {"do": "open", "document": "{}"}
    yield {"do": "nothing anyone knows"}
    yield {"do": "command", "name": "settings", "args": {"g_m_s2": "ten"}}


def differences(here: Any, there: Any, path: str = "") -> Iterator[str]:
    """Where two replies differ by more than a last place."""
    if isinstance(here, dict) and isinstance(there, dict) and here.keys() == there.keys():
        for key in here:
            yield from differences(here[key], there[key], f"{path}.{key}")
    elif isinstance(here, list) and isinstance(there, list) and len(here) == len(there):
        for index, (one, other) in enumerate(zip(here, there, strict=True)):
            yield from differences(one, other, f"{path}[{index}]")
    elif isinstance(here, float) and isinstance(there, float):
        if not math.isclose(here, there, rel_tol=RELATIVE, abs_tol=SMALL):
            yield f"{path}: {here} here, {there} there"
    elif isinstance(here, str) and isinstance(there, str) and here.startswith("{") and here != there:
        yield from differences(json.loads(here), json.loads(there), f"{path} as JSON")
    elif here != there:
        yield f"{path}: {here!r} here, {there!r} there"


@pytest.fixture(scope="module")
def requests() -> list[str]:
    return [json.dumps({"seq": number, **request}) for number, request in enumerate(conversation())]


@pytest.fixture(scope="module")
def replies(
    requests: list[str], setting: dict[str, Any], built_site: Path, tmp_path_factory: pytest.TempPathFactory
) -> list[str]:
    """What the packed engine answers."""
    written = tmp_path_factory.mktemp("talk") / "replies.json"
    talked = subprocess.run(
        [
            *setting["node"],
            Path(__file__).parent / "runtime" / "converse.mjs",
            CACHE / "npm-site" / "node_modules" / "pyodide",
            built_site / "v" / built_site.name / "python",
            written,
        ],
        input=json.dumps(requests),
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert talked.returncode == 0, talked.stderr[-2000:]
    return list(json.loads(written.read_text(encoding="utf-8")))


def test_the_conversation_is_long_and_most_of_it_succeeds(requests: list[str], replies: list[str]) -> None:
    ok = [json.loads(reply)["ok"] for reply in replies]
    assert len(ok) == len(requests) > 300
    assert sum(ok) > 0.9 * len(ok)


def test_no_module_is_missing_from_what_was_packed(requests: list[str], replies: list[str]) -> None:
    broken = [
        (request[:200], json.loads(reply)["error"]["message"])
        for request, reply in zip(requests, replies, strict=True)
        if "engine.unexpected" in reply
    ]
    assert broken == []


def test_it_answers_every_request_as_the_engine_here_does(requests: list[str], replies: list[str]) -> None:
    door = Door()
    for request, reply in zip(requests, replies, strict=True):
        here, there = json.loads(door.handle(request)), json.loads(reply)
        assert list(differences(here, there))[:5] == [], request[:300]
