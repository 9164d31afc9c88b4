"""How sure the reactions are, as the page gets it: following the hand, silent about kept answers."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from steelyard import document, shelf
from steelyard.bridge import Door
from steelyard.model import Body, HalfWidth, Sketch, Support, Thing
from steelyard.panels.uncertainty import uncertainty_panel
from steelyard.statics import analyse
from steelyard.statics.uncertainty import uncertainty

WIDTHS = (HalfWidth("walker.mass_kg", 2.0), HalfWidth("hoist.anchor_m[1]", 0.05))
GANGWAY = replace(shelf.load("gangway"), answers="shown", half_widths=WIDTHS)


def ask(door: Door, do: str, **arguments: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(door.handle(json.dumps({"seq": 1, "do": do, **arguments})))
    assert reply["ok"], reply
    return reply


def opened(sketch: Sketch, side: str = "forces") -> Door:
    door = Door()
    ask(door, "show", width_px=863, height_px=522, strips_px=863, side=side)
    ask(door, "open", document=document.write(sketch))
    return door


def plain(text: str) -> str:
    return text.replace("\u00a0", " ").replace("\u2009", "")


def test_each_reaction_stands_with_its_half_width_and_what_matters_most():
    panel = uncertainty_panel(GANGWAY, analyse(GANGWAY), None)
    spread = {(each.force, each.quantity): each for each in uncertainty(GANGWAY).spreads}["hoist", "size"]
    row = next(row for row in panel["rows"] if row["key"] == "hoist.size")
    assert plain(row["value"]) == f"2146 N ± {spread.half_width:.2g} N"
    assert (row["of"], row["most"]) == ("hoist", "most from the walker's mass")
    assert [row["key"] for row in panel["rows"]] == ["hinge.size", "hinge.direction", "hoist.size"]
    assert (panel["said"], panel["hint"]) == ("", "")


def row_of(sketch: Sketch, key: str) -> dict[str, Any]:
    return next(row for row in uncertainty_panel(sketch, analyse(sketch), None)["rows"] if row["key"] == key)


def test_the_worst_case_stands_beside_it_until_there_are_too_many_half_widths():
    extent = {(each.force, each.quantity): each for each in uncertainty(GANGWAY).spreads}["hoist", "size"].extent
    worst = plain(row_of(GANGWAY, "hoist.size")["worst"]).replace(" N", "")
    least, greatest = (float(part) for part in worst.removeprefix("at worst ").split(" to "))
    assert (least, greatest) == pytest.approx((extent.least, extent.greatest), rel=0.5e-3)
    paths = ("gangway.mass_kg", "gangway.angle_deg", "gangway.length_m", "hoist.anchor_m[0]", "settings.g_m_s2")
    many = replace(GANGWAY, half_widths=(*WIDTHS, *(HalfWidth(path, 0.01) for path in paths)))
    assert row_of(many, "hoist.size")["worst"] == ""


def test_what_may_fail_within_the_half_widths_is_said():
    # A plank over a pin and a trestle: with the crate a little further out it would lift off the trestle.
    plank = Body("plank", "bar", "plank", (0.0, 0.0), 0.0, length_m=4.0, mass_kg=10.0)
    pin = Support("bolt", "pin", "plank", (1.0, 0.0), "R", "bolt")
    trestle = Support("trestle", "contact", "plank", (3.0, 0.0), "N", "trestle")
    crate = Thing("crate", "plank", (0.95, 0.0), "P", "crate", 100.0)
    wide = Sketch(bodies=(plank,), supports=(pin, trestle), loads=(crate,),
                  half_widths=(HalfWidth("crate.place_m[0]", 0.3),))  # fmt: skip
    said = uncertainty_panel(wide, analyse(wide), None)["said"]
    assert said == "Within these half-widths there may be no balance: N would have to do what it cannot."


@pytest.mark.parametrize(
    ("selected", "labels"),
    [
        (None, ["g 9.80665 m/s² ±"]),
        ("pivot", ["g 9.80665 m/s² ±"]),
        ("walker", ["at 4 m ±", "mass 80 kg ±"]),
        ("hoist", ["at 5.2 m ±", "far end x 1.2 m ±", "far end y 3.2 m ±"]),
        ("gangway-weight", ["angle −12° ±", "length 6 m ±", "mass 120 kg ±"]),
    ],
)
def test_the_selected_thing_offers_its_measured_numbers(selected, labels):
    fields = uncertainty_panel(GANGWAY, analyse(GANGWAY), selected)["fields"]
    assert [plain(field["label"]) for field in fields] == labels


def test_half_width_is_typed_in_any_unit_undone_and_emptied():
    door = opened(replace(GANGWAY, half_widths=()))
    key = "half_width:walker.place_m[0]"
    reply = ask(door, "command", name="set", args={"id": "sketch", "key": key, "text": "10 cm"})
    assert json.loads(reply["document"])["half_widths"] == [{"path": "walker.place_m[0]", "half_width": 0.1}]
    assert reply["entry"]["label"] == "Half-width of the place of the walker along the bar"
    assert reply["panels"]["unsure"]["rows"]
    assert "half_widths" not in json.loads(ask(door, "undo")["document"])
    ask(door, "redo")
    reply = ask(door, "command", name="set", args={"id": "sketch", "key": key, "text": ""})
    assert "half_widths" not in json.loads(reply["document"])
    assert reply["panels"]["unsure"]["rows"] == []
    message = {
        "seq": 1,
        "do": "command",
        "name": "set",
        "args": {"id": "sketch", "key": "half_width:no.one", "text": "1"},
    }
    refused = json.loads(door.handle(json.dumps(message)))
    assert refused["error"]["code"] == "path.unknown"


def test_rows_follow_the_hand():
    door = opened(GANGWAY)
    target = next(
        each
        for each in ask(door, "show", selected="walker")["picture"]["targets"]
        if each["of"] == "walker" and not each.get("locked")
    )
    x_px, y_px = target["points_px"][0]
    ask(door, "begin", of="walker", grip=target["grip"], point_px=[x_px, y_px])
    reply = ask(door, "preview", point_px=[x_px - 60, y_px], snap=False, catch_px=8)
    shown = door.session.shown_sketch
    assert shown != GANGWAY and reply["preview"]
    assert reply["panels"]["unsure"] == uncertainty_panel(shown, analyse(shown), "walker", preview=True)
    assert {row["worst"] for row in reply["panels"]["unsure"]["rows"]} == {"at worst …"}
    assert reply["panels"]["unsure"]["rows"] != uncertainty_panel(GANGWAY, analyse(GANGWAY), "walker")["rows"]


def test_nothing_is_said_while_answers_are_kept_back_or_the_tab_is_closed():
    for told in ((), ("hoist",)):
        kept = replace(GANGWAY, answers="kept", told=told)
        assert uncertainty_panel(kept, analyse(kept), None) is None
        assert ask(opened(kept), "show", selected="hoist")["panels"]["unsure"] is None
    assert ask(opened(GANGWAY, side=""), "show", selected="hoist")["panels"]["unsure"] is None
    assert uncertainty_panel(Sketch(), None, None) is None


def test_trouble_is_said_where_the_rows_would_stand():
    loose = replace(GANGWAY, supports=GANGWAY.supports[:1], half_widths=WIDTHS[:1])
    panel = uncertainty_panel(loose, analyse(loose), None)
    assert panel["rows"] == []
    assert panel["said"] == "No reaction has a value to be unsure of."
