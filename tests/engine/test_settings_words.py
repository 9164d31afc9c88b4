"""Every setting goes through every sentence, equation, strip, label and table: what it replaces is found nowhere.

All texts of the replies of a session are gathered with everything shown: each thing selected, the working open to its
end with numbers and without, answers shown and kept, a guess argued about, a second pivot.
"""

import json
import re
from functools import cache

import pytest
from steelyard.bridge import Door

SLUGS = ("plank", "channel-post", "propped-flap", "jib", "hatch")
# What a text of a reply stands under: keys, ids and names of commands are no words for people.
TEXTS = {
    "text", "label", "spoken", "title", "sentence", "headline", "detail", "near", "words", "name", "note", "tooltip",
    "question", "caution",
}  # fmt: skip
# Given by the user, in the user's own words.
GIVEN = {"question", "caution", "title", "task"}
# The settings themselves offer every word, and commands carry names.
SKIPPED = {"settings", "command", "args", "error", "entry", "document"}


def texts(node, key=""):
    """Every text for people in a reply, MathML and runs of labels included."""
    if isinstance(node, dict):
        for name, inner in node.items():
            if name not in SKIPPED:
                yield from texts(inner, name)
    elif isinstance(node, list):
        if len(node) == 3 and isinstance(node[0], str) and isinstance(node[1], dict):
            # A MathML element: its text stands among its children.
            for child in node[2] if isinstance(node[2], list) else [node[2]]:
                yield from [child] if isinstance(child, str) else texts(child, key)
        else:
            for inner in node:
                yield from texts(inner, key)
    elif isinstance(node, str) and key in TEXTS and key not in GIVEN:
        yield node


class Talk:
    """A door, and everything it has said."""

    def __init__(self, slug, **settings):
        self.door, self.seq, self.said, self.replies = Door(), 0, set(), []
        self.ask("scenario", slug=slug)
        for key, value in settings.items():
            self.ask("command", name="settings", args={"key": key, "text": value})
        self.said.clear()
        self.replies.clear()

    def ask(self, do, **args):
        self.seq += 1
        reply = json.loads(self.door.handle(json.dumps({"seq": self.seq, "do": do, **args})))
        assert reply["ok"], reply
        self.said.update(texts(reply))
        self.replies.append(reply)
        return reply

    def everything(self):
        size = {"width_px": 900, "height_px": 480, "strips_px": 900}
        first = self.ask("show", view="extended", side="working", revealed=99, numbers=True, **size)
        outline = [entry["id"] for entry in first["panels"]["outline"]]
        self.ask("show", numbers=False)
        self.ask("show", numbers=True, way="geometry")
        self.ask("command", name="second-pivot", args={})
        self.ask("command", name="answers", args={"answers": "shown"})
        for view in ("set-up", "extended"):
            for of in outline:
                self.ask("show", view=view, selected=of, side="forces")
        for of in outline:
            self.ask("show", view="set-up", selected=of, let_go=True)
        self.ask("show", let_go=False)
        unknown = next(
            row for row in self.ask("show", selected=None)["panels"]["table"]["rows"] if row["role"] == "unknown"
        )
        self.ask("command", name="guess", args={"id": unknown["id"]})
        self.ask("show", side="working", selected=unknown["id"])
        self.ask("command", name="answers", args={"answers": "kept"})
        return self


FLIPPED = {
    "turning_word": "moment", "pivot_word": "moment centre", "counterclockwise_word": "anticlockwise",
    "mass_centre_word": "centre of gravity", "decimal_comma": "true", "units": "us",
    "counterclockwise_positive": "false",
}  # fmt: skip
# What may be nowhere, with the settings as they come and with all of them flipped.
PLAIN_NEVER = {
    "moment": r"(?i)\bmoments?\b(?! arm)|ΣM|anticlockwise|centre of gravity",
    "feet": r"\d[\s\u00a0\u202f](lbf|ft|lb|lbf·ft)\b|\b(foot|feet|pounds?)\b",
    "comma": r"\d,\d",
}
FLIPPED_NEVER = {
    "torque": r"(?i)torque|τ|\btau\b",
    "pivot": r"(?i)\bpivots?\b",
    "counterclockwise": r"(?i)counter-?clockwise",
    "centre of mass": r"(?i)cent(re|er) of mass",
    "point": r"\d\.\d",
    "metres": r"\d[\s\u00a0\u202f](N|kN|m|mm|cm|kg|N·m|kN·m)\b|\b(newtons?|metres?|kilograms?)\b",
}


@cache
def said_of(slug, flipped):
    """Everything said of a scenario."""
    return Talk(slug, **(FLIPPED if flipped else {})).everything().said


@pytest.mark.parametrize("slug", SLUGS)
def test_no_text_keeps_a_word_a_letter_or_a_unit_that_the_settings_replace(slug):
    for flipped, never in ((False, PLAIN_NEVER), (True, FLIPPED_NEVER)):
        said = said_of(slug, flipped)
        assert len(said) > 150
        for what, forbidden in never.items():
            assert (what, [text for text in said if re.search(forbidden, text)]) == (what, [])


@pytest.mark.parametrize("slug", SLUGS)
def test_the_words_chosen_are_used(slug):
    words = " ".join(said_of(slug, True)).lower()
    assert "moments about" in words and "moment centre" in words and "anticlockwise" in words
    assert "centre of gravity" in words
    assert "turning clockwise" in words and "turning anticlockwise" not in words


def senses(node):
    """Every positive sense in a reply."""
    if isinstance(node, dict):
        if node.get("kind") in ("turn", "axis") and "words" in node:
            yield node
        for inner in node.values():
            yield from senses(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from senses(inner)


@pytest.mark.parametrize("positive", [1, -1])
@pytest.mark.parametrize("slug", SLUGS)
def test_a_positive_sense_stands_beside_every_sum_of_the_working_the_torque_column_and_every_strip(slug, positive):
    talk = Talk(slug, counterclockwise_positive="true" if positive > 0 else "false")
    reply = talk.ask("show", view="extended", side="working", revealed=99, numbers=True, width_px=900, height_px=480,
                     strips_px=900)  # fmt: skip
    steps = reply["panels"]["reasoning"]["working"]["steps"]
    sums = [step for step in steps if any(line["kind"] in ("equation", "sum") for line in step["lines"])]
    assert sums and all(step["sense"]["words"] for step in sums)
    table = reply["panels"]["table"]
    assert table["columns"][-1]["positive"]["turn"] == positive
    assert [total["positive"]["kind"] for total in table["totals"]] == ["axis", "axis", "turn"]
    assert {sense["turn"] for sense in senses(reply) if sense["kind"] == "turn"} == {positive}
    # The right end of a strip is its positive one: it carries the plus. Two strokes more than the bare arrow.
    ends = {
        record["id"]: dict(record["attrs"])["d"] for record in reply["strips"]["records"] if record["id"][:4] == "end."
    }
    for row in ("x", "y", "turn"):
        assert ends[f"end.{row}p"].count("M") == ends[f"end.{row}n"].count("M") + 1


def test_g_is_printed_where_it_enters_and_not_where_it_does_not():
    for slug, enters in (("plank", True), ("bell-crank", False), ("jib", False), ("oar", False)):
        talk = Talk(slug, g_m_s2="10")
        talk.ask("show", view="extended", side="working", revealed=1, numbers=True, width_px=900, height_px=480,
                 strips_px=900)  # fmt: skip
        shown = any("10\u00a0m/s²" in text for text in talk.said)
        assert shown == enters, slug


def test_figures_of_the_settings_are_the_figures_of_every_result():
    talk = Talk("hatch", significant_figures="5")
    reply = talk.ask("show", side="working", revealed=99, numbers=True, width_px=900, height_px=480, strips_px=900)
    values = [line["text"] for step in reply["panels"]["reasoning"]["working"]["steps"] for line in step["lines"]
              if line["kind"] == "value" and line["underlined"]]  # fmt: skip
    assert values
    for text in values:
        digits = re.search(r"[\d.]+", text).group().replace(".", "").lstrip("0")
        assert len(digits) == 5 or digits == "", text


@pytest.mark.parametrize("slug", SLUGS)
def test_two_sided_sums_are_equal_sides_and_never_equal_nothing_that_has_two_sides(slug):
    talk = Talk(slug, two_sided="true")
    reply = talk.ask("show", side="working", revealed=99, numbers=True, width_px=900, height_px=480, strips_px=900)
    spoken = [line["text"] for step in reply["panels"]["reasoning"]["working"]["steps"] for line in step["lines"]
              if line["kind"] == "equation"]  # fmt: skip
    assert spoken
    for text in spoken:
        left, right = text.split(" equals ")
        assert "minus" not in left.split() + right.split()


@pytest.mark.parametrize(("letter", "spoken"), [("d", "d"), ("r⊥", "r"), ("ℓ", "l")])
def test_the_letter_of_the_arm_is_the_one_chosen_on_the_board_and_in_the_working(letter, spoken):
    talk = Talk("hatch", arm_letter=letter)
    reply = talk.ask("show", view="extended", selected="prop", side="working", revealed=99, numbers=False,
                     width_px=900, height_px=480, strips_px=900)  # fmt: skip
    labels = [record["runs"] for record in reply["picture"]["records"] if record["id"].endswith("arm-label")]
    assert labels and all("".join(run["text"] for run in runs).startswith(letter) for runs in labels)
    torque = next(step for step in reply["panels"]["reasoning"]["working"]["steps"] if step["kind"] == "sum")
    assert torque["lines"][0]["text"].split()[1] == spoken
