"""What the page says of rough contacts: f/N beside μ, the place on a face, ranges, conditions, the problem in words."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy.optimize import linprog
from steelyard import document, shelf
from steelyard.bridge import Door
from steelyard.model import Sketch
from steelyard.panels.contact_words import about_to_words
from steelyard.panels.extents import extents
from steelyard.panels.fields import fields
from steelyard.panels.meters import meters
from steelyard.panels.outline import outline
from steelyard.panels.problem import problem
from steelyard.panels.table import table
from steelyard.statics import analyse


def shown(slug: str, **changes: Any) -> Sketch:
    sketch = replace(shelf.load(slug), answers="shown")
    supports = tuple(replace(each, **changes.get(each.id, {})) for each in sketch.supports)
    bodies = tuple(replace(each, **changes.get(each.id, {})) for each in sketch.bodies)
    return replace(sketch, supports=supports, bodies=bodies)


def bars(sketch: Sketch, force: str) -> dict[str, dict[str, Any]]:
    analysis = analyse(sketch)
    found = meters(analysis, force, sketch.settings, extents(sketch, analysis))
    return {str(each["key"]): each for each in found}


def text(bar: dict[str, Any]) -> str:
    return "".join(run["text"] for run in bar["runs"])


def test_friction_on_a_slope_needs_the_tangent_of_its_angle_of_the_normal():
    """Coulomb's angle of repose: f/N = tan 15° = 0.268 on a slope of 15°."""
    bar = bars(shown("heeling-pontoon"), "deck-friction")["friction"]
    assert text(bar) == "f/C = 0.268 of μ\u00a0=\u00a00.5"
    assert bar["share"] / bar["mark"] == pytest.approx(math.tan(math.radians(15.0)) / 0.5, abs=1e-3)
    assert not bar["over"]


def test_a_slope_past_the_angle_of_repose_asks_for_more_than_there_is():
    sketch = shown("heeling-pontoon", crate={"angle_deg": 28.0})
    bar = bars(sketch, "deck-friction")["friction"]
    assert text(bar) == "f/C = 0.532, more than μ\u00a0=\u00a00.5"
    assert bar["over"] and bar["share"] > bar["mark"]


def test_the_normal_on_a_slope_acts_half_the_height_times_the_tangent_below_the_middle():
    bar = bars(shown("heeling-pontoon"), "deck")["place"]
    at_m = 0.45 - 0.75 * math.tan(math.radians(15.0))
    assert text(bar) == f"{at_m:.3f}\u00a0m from its left end, of 0.9\u00a0m"
    assert bar["share"] == pytest.approx(at_m / 0.9, abs=1e-4)
    assert bar["mark"] is None


def test_a_crate_past_the_tilt_at_which_it_tips_would_need_its_normal_past_the_lower_end():
    sketch = shown("heeling-pontoon", crate={"angle_deg": 33.0}, deck={"mu": 0.8})
    bar = bars(sketch, "deck")["place"]
    past_m = 0.75 * math.tan(math.radians(33.0)) - 0.45
    assert text(bar) == f"{past_m:.4f}\u00a0m past its left end"
    assert bar["over"] and bar["share"] == 0.0


def test_a_face_drawn_from_right_to_left_is_told_from_its_left_end_all_the_same():
    there = shown("heeling-pontoon", deck={"place_m": (0.9, 0.0), "face_m": (0.0, 0.0)})
    assert bars(there, "deck") == bars(shown("heeling-pontoon"), "deck")


def ladder_ranges() -> dict[str, tuple[float, float]]:
    """C, f, D and f_D of the ladder with both ends rough, by HiGHS: three equations, |f| ≤ μ times its normal."""
    turn = math.radians(70.0)
    top = (5.0 * math.cos(turn), 5.0 * math.sin(turn))
    weight, painter = 15.0 * 9.81, 80.0 * 9.81
    # C up and f to the right at the foot; D to the left and f_D up along the hull at the top.
    equal = np.array([[0.0, 1.0, -1.0, 0.0], [1.0, 0.0, 0.0, 1.0], [0.0, 0.0, top[1], top[0]]])
    torque = (2.5 * weight + 3.0 * painter) * math.cos(turn)
    limits = np.array([[-0.3, 1.0, 0.0, 0.0], [-0.3, -1.0, 0.0, 0.0], [0.0, 0.0, -0.2, 1.0], [0.0, 0.0, -0.2, -1.0]])
    found = {}
    for index, name in enumerate(("foot", "foot-friction", "hull", "hull-friction")):
        ends = []
        for sign in (1.0, -1.0):
            aim = np.zeros(4)
            aim[index] = sign
            done = linprog(aim, limits, np.zeros(4), equal, [0.0, weight + painter, torque],
                           [(0, None), (None, None), (0, None), (None, None)], method="highs")  # fmt: skip
            ends.append(sign * done.fun)
        found[name] = (ends[0], ends[1])
    return found


@pytest.mark.parametrize("force", ["foot", "foot-friction", "hull"])
def test_a_ladder_rough_at_both_ends_says_how_far_each_force_may_reach(force):
    sketch = shown("rough-foot", hull={"mu": 0.2, "mu_symbol": "μ_D", "friction_symbol": "f_D"})
    low, high = ladder_ranges()[force]
    said = text(bars(sketch, force)["range-size"])
    assert said.endswith(f"between {low:.0f}\u00a0N and {high:.0f}\u00a0N")
    analysis = analyse(sketch)
    items = fields(sketch, analysis, force, extents(sketch, analysis))["groups"][0]["items"]
    assert "range-size" in [item["meter"]["key"] for item in items if item["kind"] == "meter"]


def test_a_range_of_use_fills_the_bar_from_its_least_to_its_most():
    sketch = shown("rough-foot", hull={"mu": 0.2, "mu_symbol": "μ_D", "friction_symbol": "f_D"})
    bar = bars(sketch, "foot-friction")["friction"]
    assert bar["from"] < bar["share"] < bar["mark"]
    assert "between 0.206 and 0.219, of μ\u00a0=\u00a00.3" in text(bar)


def test_a_coefficient_of_zero_is_a_bar_without_room():
    sketch = shown("heeling-pontoon", crate={"angle_deg": 0.0}, deck={"mu": 0.0})
    analysis = analyse(sketch)
    found = meters(analysis, "deck-friction", sketch.settings, extents(sketch, analysis))
    assert [(each["share"], each["mark"], each["over"]) for each in found] == [(0.0, 0.0, False)]


@pytest.mark.parametrize("slug", ["rough-foot", "heeling-pontoon"])
def test_with_answers_kept_back_no_bar_is_in_any_reply(slug):
    door = Door()

    def ask(do: str, **more: Any) -> dict[str, Any]:
        return json.loads(door.handle(json.dumps({"seq": 1, "do": do, **more})))

    ask("show", width_px=863, height_px=522, strips_px=863, view="extended")
    ask("open", document=document.write(shelf.load(slug)))
    for of in ("foot", "foot-friction") if slug == "rough-foot" else ("deck", "deck-friction"):
        panels = ask("show", selected=of)["panels"]
        assert all(row["meters"] == [] for row in panels["table"]["rows"])
        items = [item for group in panels["fields"]["groups"] for item in group["items"]]
        assert all(item["kind"] not in ("meter", "answer") for item in items)


def test_friction_alone_told_does_not_give_its_normal_away():
    sketch = replace(shelf.load("rough-foot"), told=("foot-friction",))
    door = Door()
    door.handle(json.dumps({"seq": 1, "do": "show", "width_px": 863, "height_px": 522, "strips_px": 863}))
    reply = json.loads(door.handle(json.dumps({"seq": 2, "do": "open", "document": document.write(sketch)})))
    rows = {row["id"]: row for row in reply["panels"]["table"]["rows"]}
    assert rows["foot-friction"]["cells"][2]["runs"][0]["text"] == "198\u00a0N"
    assert rows["foot-friction"]["meters"] == []


def test_conditions_are_named_by_where_they_lead():
    ladder, crate = shelf.load("rough-foot"), shelf.load("heeling-pontoon")
    foot, deck = ladder.supports[0], crate.supports[0]
    assert about_to_words(ladder, foot, "slip") == "slip to the right"
    assert about_to_words(ladder, foot, "slip-back") == "slip to the left"
    assert about_to_words(crate, deck, "slip-back") == "slip down and to the left"
    assert about_to_words(crate, deck, "tip") == "tip over its right end"
    assert about_to_words(crate, deck, "tip-back") == "tip over its left end"
    steep = shown("heeling-pontoon", crate={"angle_deg": 80.0})
    assert about_to_words(steep, steep.supports[0], "tip") == "tip over its upper end"


def test_the_choice_of_conditions_is_in_the_fields_with_the_words_of_each():
    sketch = shown("heeling-pontoon")
    groups = fields(sketch, analyse(sketch), "deck")["groups"]
    items = {item["key"]: item for group in groups for item in group["items"]}
    offered = [option["text"] for option in items["about_to"]["options"]]
    assert offered == ["stay put", "slip up and to the right", "slip down and to the left", "tip over its right end",
                       "tip over its left end", "lift off"]  # fmt: skip
    assert (items["mu"]["text"], items["from"]["text"], items["to"]["text"]) == ("0.5", "0", "0.9")


@pytest.mark.parametrize(
    ("about", "sentence"),
    [("slip-back", "On the quay it is about to slip to the left."), ("lift", "On the quay it is about to lift off.")],
)
def test_the_problem_states_roughness_and_what_is_about_to_happen(about, sentence):
    sketch = shown("rough-foot", foot={"about_to": about})
    said = problem(sketch, "ladder")["text"]
    assert "It rests on the rough quay (μ = 0.3) at its lower end A." in said
    assert sentence in said


def test_the_problem_states_along_which_edge_a_face_touches():
    level = shown("heeling-pontoon", crate={"angle_deg": 0.0})
    assert "It rests on the rough pontoon (μ = 0.5) along its whole lower edge." in problem(level, "crate")["text"]
    tilted = problem(shown("heeling-pontoon"), "crate")["text"]
    assert "rests on the rough pontoon (μ = 0.5), which pushes it up and to the left at 75°" in tilted
    part = shown("heeling-pontoon", crate={"angle_deg": 0.0}, deck={"place_m": (0.2, 0.0), "face_m": (0.7, 0.0)})
    assert "along its lower edge" in problem(part, "crate")["text"]
    assert "whole" not in problem(part, "crate")["text"]


def test_without_a_question_the_problem_asks_for_the_friction_too():
    sketch = replace(shown("rough-foot"), question="")
    assert "the push C of the quay, the friction f of the quay" in problem(sketch, "ladder")["text"]


def test_the_outline_lists_friction_below_its_contact_and_says_what_touches():
    entries = [(entry["id"], entry["name"]) for entry in outline(shelf.load("heeling-pontoon"), "A")]
    assert ("deck", "rough contact along a face, pontoon") in entries
    assert (
        entries.index(("deck-friction", "friction"))
        == entries.index(("deck", "rough contact along a face, pontoon")) + 1
    )


def test_direction_says_both_ways_only_where_the_range_has_both() -> None:
    sketch = replace(shelf.load("rough-hull"), answers="shown")
    analysis = analyse(sketch)
    known = extents(sketch, analysis)
    rows = {row["id"]: row for row in table(analysis, sketch.settings, "A", known)["rows"]}
    said = {name: rows[name]["cells"][3]["runs"][0]["text"] for name in ("foot-friction", "hull-friction")}
    assert said == {"foot-friction": "0°", "hull-friction": "270° or 90.0°"}
