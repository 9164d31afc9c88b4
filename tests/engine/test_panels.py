"""Words, table and fields of the page say what the analysis holds, and nothing else.

Expected numbers of the gangway follow from ΣF = 0 and Στ = 0 by hand: T = (W·2.934 m + P·3.913 m) / 3.039 m.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from steelyard import shelf
from steelyard.model import Body, Couple, Force, Guess, Sketch, Support
from steelyard.panels.fields import fields
from steelyard.panels.hints import hints
from steelyard.panels.outline import outline
from steelyard.panels.settings import settings_items
from steelyard.panels.spoken import summary
from steelyard.panels.table import table
from steelyard.panels.verdict import verdict
from steelyard.panels.words import symbol_runs
from steelyard.statics import analyse
from steelyard.statics.kept import kept_back


@pytest.fixture
def gangway() -> Sketch:
    return replace(shelf.load("gangway"), answers="shown")


def bar(*, angle_deg: float = 0.0, mass_kg: float | None = None) -> Body:
    return Body("bar", "bar", "bar", (0.0, 0.0), angle_deg, length_m=4.0, mass_kg=mass_kg)


def texts(row: dict[str, Any]) -> dict[str, str]:
    return {cell["key"]: "".join(run["text"] for run in cell["runs"]) for cell in row["cells"]}


def items(shown: dict[str, Any] | None, group: str) -> dict[str, dict[str, Any]]:
    assert shown is not None
    return {item["key"]: item for each in shown["groups"] if each["key"] == group for item in each["items"]}


def test_the_table_gives_size_direction_arm_and_torque_of_every_force(gangway: Sketch) -> None:
    rows = {row["id"]: texts(row) for row in table(analyse(gangway), gangway.settings, "A")["rows"]}
    assert list(rows) == ["gangway-weight", "walker", "hinge", "hoist"]
    assert rows["hoist"] == {
        "symbol": "T",
        "force": "hoist on gangway",
        "size": "2146\u00a0N",
        "direction": "132.2°",
        "arm": "3.039\u00a0m",
        "torque": "6523\u00a0N·m",
    }
    assert rows["hinge"]["torque"] == "drops out"


def test_the_table_keeps_answers_back_as_question_marks(gangway: Sketch) -> None:
    shown = table(kept_back(analyse(gangway)), gangway.settings, "A")
    rows = {row["id"]: texts(row) for row in shown["rows"]}
    assert rows["hinge"]["size"] == rows["hinge"]["direction"] == rows["hoist"]["size"] == "?"
    assert [total["runs"][0]["text"] for total in shown["totals"]] == ["?", "?", "?"]


def test_a_load_given_by_its_letter_keeps_the_letter() -> None:
    load = Force("force", "bar", (2.0, 0.0), "F", agent="crate", size_n=None)
    sketch = Sketch(bodies=(bar(),), loads=(load,))
    (row,) = table(analyse(sketch), sketch.settings, "O")["rows"]
    assert texts(row)["size"] == "F"


def test_a_line_that_may_act_both_ways_shows_both_directions() -> None:
    sketch = Sketch(bodies=(bar(),), supports=(Support("roller", "roller", "bar", (1.0, 0.0), "B", two_way=True),))
    (row,) = table(kept_back(analyse(sketch)), sketch.settings, "O")["rows"]
    assert texts(row)["direction"] == "90.0° or 270°"


def test_torques_follow_the_positive_sense_of_the_settings(gangway: Sketch) -> None:
    clockwise = replace(gangway.settings, counterclockwise_positive=False)
    rows = {row["id"]: texts(row) for row in table(analyse(gangway), clockwise, "A")["rows"]}
    assert rows["hoist"]["torque"] == "−6523\u00a0N·m"
    assert rows["walker"]["torque"] == "3070\u00a0N·m"


def test_a_guess_has_a_row_of_its_own_beside_the_answer(gangway: Sketch) -> None:
    supports = tuple(
        replace(each, guess=Guess(1000.0, 90.0)) if each.id == "hinge" else each for each in gangway.supports
    )
    sketch = replace(gangway, supports=supports)
    rows = [row for row in table(analyse(sketch), sketch.settings, "A")["rows"] if row["id"] == "hinge"]
    assert [row["guess"] for row in rows] == [False, True]
    assert texts(rows[1])["size"] == "1000\u00a0N"
    assert texts(rows[1])["direction"] == "90.00°"


def test_the_verdict_says_balanced_with_its_reason(gangway: Sketch) -> None:
    said = verdict(analyse(gangway), kept=False)
    assert said["headline"] == "Balanced."
    assert "statically determinate" in str(said["sentence"])


def test_a_body_on_which_nothing_acts_is_not_called_balanced() -> None:
    said = verdict(analyse(Sketch(bodies=(bar(),))), kept=False)
    assert (said["headline"], said["sentence"]) == ("No forces yet.", "Say what holds it and what loads it.")


def test_the_verdict_of_kept_back_answers_gives_only_the_layout(gangway: Sketch) -> None:
    said = verdict(kept_back(analyse(gangway)), kept=True)
    assert said["headline"] == "Answers kept back."
    assert said["kind"] == "determinate"


def test_a_rope_that_would_have_to_push_reads_the_same_as_one_that_can_hold_while_answers_are_kept_back(
    gangway: Sketch,
) -> None:
    supports = tuple(replace(each, anchor_m=(1.2, -5.0)) if each.id == "hoist" else each for each in gangway.supports)
    broken = replace(gangway, supports=supports)
    assert verdict(analyse(broken), kept=False)["headline"] == "Cannot hold."
    holding = verdict(kept_back(analyse(gangway)), kept=True)
    failing = verdict(kept_back(analyse(broken)), kept=True)
    assert failing == holding


def test_a_body_that_can_turn_is_said_to_be_free_with_the_point_it_turns_about(gangway: Sketch) -> None:
    loose = replace(gangway, supports=gangway.supports[:1])
    said = verdict(analyse(loose), kept=False)
    assert said["headline"] == "Free to move in one way (a mechanism)."
    assert "A" in str(said["sentence"])


def test_one_support_too_many_is_said_with_its_degree(gangway: Sketch) -> None:
    prop = Support("prop", "roller", "gangway", (6.0, 0.0), "N", "prop")
    said = verdict(analyse(replace(gangway, supports=(*gangway.supports, prop))), kept=False)
    assert said["headline"] == "One too many: degree 1."


def test_fields_of_a_rope_show_where_it_is_tied_and_what_it_carries(gangway: Sketch) -> None:
    main = items(fields(gangway, analyse(gangway), "hoist"), "main")
    assert [(item["kind"], item["text"], item["unit"]) for item in main.values()] == [
        ("quantity", "5.2", "m"),
        ("quantity", "1.2", "m"),
        ("quantity", "3.2", "m"),
        ("answer", "2146\u00a0N", ""),
        ("answer", "132.2°", ""),
    ]


@pytest.mark.parametrize("selected", ["hinge", "hoist"])
def test_fields_have_no_answers_while_they_are_kept_back(gangway: Sketch, selected: str) -> None:
    shown = fields(gangway, kept_back(analyse(gangway)), selected)
    assert shown is not None
    kinds = [item["kind"] for group in shown["groups"] for item in group["items"]]  # type: ignore[attr-defined]
    assert "answer" not in kinds


def test_every_field_has_words_for_a_screen_reader(gangway: Sketch) -> None:
    for selected in ("gangway", "gangway-weight", "hinge", "hoist", "walker", "point-a", "pivot"):
        shown = fields(gangway, analyse(gangway), selected)
        assert shown is not None and shown["of"] == selected
        for group in shown["groups"]:  # type: ignore[attr-defined]
            for item in group["items"]:
                assert item["spoken"].strip(), (selected, item)
    for item in settings_items(gangway):
        assert str(item["spoken"]).strip()


def test_nothing_selected_has_no_fields(gangway: Sketch) -> None:
    assert fields(gangway, analyse(gangway), None) is None
    assert fields(gangway, analyse(gangway), "nothing-like-it") is None


def test_an_answer_against_the_arrow_offers_to_draw_it_this_way() -> None:
    strut = Support("strut", "strut", "bar", (4.0, 0.0), "S", anchor_m=(4.0, -2.0))
    pin = Support("pin", "pin", "bar", (0.0, 0.0), "R")
    sketch = Sketch(bodies=(bar(mass_kg=10.0),), supports=(pin, strut))
    more = items(fields(sketch, analyse(sketch), "strut"), "more")
    assert more["draw-this-way"]["label"] == "Draw it this way"
    assert "draw-this-way" not in items(fields(sketch, kept_back(analyse(sketch)), "strut"), "more")


def test_the_outline_holds_every_thing_once_under_its_body(gangway: Sketch) -> None:
    entries = outline(gangway, "A")
    assert [entry["id"] for entry in entries] == [
        "gangway",
        "gangway-weight",
        "hinge",
        "hoist",
        "walker",
        "point-a",
        "pivot",
        *(given.id for given in gangway.givens),
    ]
    assert [entry["level"] for entry in entries] == [1, 2, 2, 2, 2, 2, 1] + [1] * len(gangway.givens)


def test_hints_are_tied_to_things_that_are_there(gangway: Sketch) -> None:
    assert [hint["of"] for hint in hints(gangway)] == ["walker", "hoist", "pivot"]
    assert hints(Sketch()) == []
    assert hints(replace(gangway, supports=gangway.supports[:1])) == []


def test_the_spoken_summary_is_one_rounded_sentence(gangway: Sketch) -> None:
    assert summary(gangway, analyse(gangway), "hoist") == "T 2146 newtons. Balanced."
    kept = replace(gangway, answers="kept")
    assert summary(kept, kept_back(analyse(kept)), "hoist") == "T to be found. Answers kept back."


def test_a_solved_couple_is_said_with_its_sense() -> None:
    fixed = Support("fixed", "fixed", "bar", (0.0, 0.0), "R", "wall")
    load = Couple("couple", "bar", (2.0, 0.0), "C", "motor", couple_n_m=-50.0, counterclockwise=False)
    sketch = Sketch(bodies=(bar(),), supports=(fixed,), loads=(load,))
    answer = items(fields(sketch, analyse(sketch), "fixed"), "main")["answer-couple"]
    assert answer["text"] == "50.0\u00a0N·m counterclockwise"


def test_a_subscript_follows_an_underscore() -> None:
    assert symbol_runs("R_A") == [{"text": "R", "role": "symbol"}, {"text": "A", "role": "sub"}]
    assert symbol_runs("T") == [{"text": "T", "role": "symbol"}]


def test_every_setting_is_offered_with_the_value_it_has() -> None:
    shown = {str(item["key"]): item for item in settings_items(Sketch())}
    assert shown["g_m_s2"]["text"] == "9.81"
    for item in shown.values():
        if item["kind"] == "choice":
            options = item["options"]
            assert isinstance(options, list)
            assert item["text"] in [option["value"] for option in options]
