"""Seen from above: no weight anywhere, up is up the page, and the sheet says so."""

from __future__ import annotations

import json
from typing import Any

import pytest
from steelyard import document, shelf
from steelyard.bridge import handle

DISC = {
    "format": "steelyard-sketch", "version": 1, "title": "Turntable",
    "settings": {"g_m_s2": 9.81, "seen_from": "above"},
    "bodies": [{"id": "table", "kind": "disc", "name": "turntable", "origin_m": [0, 0], "angle_deg": 0, "radius_m": 1.5,
                "mass_kg": 50.0}],
    "supports": [{"id": "axle", "kind": "pin", "body": "table", "place_m": [0, 0], "symbol": "R", "agent": "axle"}],
    "loads": [{"id": "push", "kind": "force", "body": "table", "place_m": [1.5, 0], "symbol": "F", "type": "contact",
               "agent": "hand", "size_n": 250.0, "direction_deg": 90.0},
              {"id": "child", "kind": "thing", "body": "table", "place_m": [0, 1], "symbol": "P", "name": "child",
               "mass_kg": 18.0}],
}  # fmt: skip


class Door:
    """One session through the door."""

    def __init__(self, text: str) -> None:
        self.seq = 0
        self.ask(do="hello")
        self.ask(do="open", document=text)

    def ask(self, **request: Any) -> dict[str, Any]:
        self.seq += 1
        reply = json.loads(handle(json.dumps({"seq": self.seq, **request})))
        assert reply["ok"], reply
        return dict(reply)


def words(data: Any) -> str:
    """Every text of a reply's part, one after the other."""
    if isinstance(data, str):
        return data + " "
    if isinstance(data, dict):
        return "".join(words(each) for each in data.values())
    return "".join(words(each) for each in data) if isinstance(data, list) else ""


SHOW = {"do": "show", "width_px": 900, "height_px": 560, "strips_px": 180, "covered_px": [0, 0, 0, 0], "revealed": 9}


@pytest.mark.parametrize("text", [json.dumps(DISC), document.write(shelf.load("capstan-bar"))], ids=["disc", "capstan"])
@pytest.mark.parametrize("view", ["set-up", "extended", "point", "polygon"])
def test_the_sheet_says_so_in_every_view_and_nothing_is_a_weight(text, view):
    door = Door(text)
    door.ask(do="command", name="answers", args={"answers": "shown"})
    reply = door.ask(**SHOW, view=view, side="working", let_go=True)
    said = [record for record in reply["picture"]["records"] if record["id"] == "key.above"]
    assert len(said) == 1 and "seen from above" in words(said)
    assert not any("-weight" in record["id"] for record in reply["picture"]["records"])
    assert not any(item["kind"] == "weight" for item in reply["panels"]["outline"])
    assert not any("-weight" in row.get("id", "") for row in reply["panels"]["table"]["rows"])


def test_from_the_side_it_is_not_said():
    reply = Door(document.write(shelf.load("gangway"))).ask(**SHOW, view="set-up")
    assert not any(record["id"] == "key.above" for record in reply["picture"]["records"])


def test_up_is_up_the_page_in_the_working_the_table_the_problem_and_letting_go():
    alone = {**DISC, "loads": DISC["loads"][:1]}
    door = Door(json.dumps(alone))
    reply = door.ask(**SHOW, view="set-up", side="working", let_go=True)
    panels = reply["panels"]
    assert "sum of forces along y, positive up the page" in words(panels["table"])
    assert "drawn up the page" in words(panels["reasoning"]) and "9.81" not in words(panels["reasoning"])
    assert "250 N down the page" in words(panels["release"]["shown"]["words"]).replace("\u00a0", " ")
    problem = door.ask(do="show", side="forces")["panels"]["problem"]["text"]
    assert "pushes it up the page with" in problem and "no weight acts in the page" in problem


def test_who_stands_on_it_is_not_taken_along_unasked():
    reply = Door(json.dumps(DISC)).ask(**SHOW, view="set-up", let_go=True)
    assert "child rides along" in words(reply["panels"]["release"])
