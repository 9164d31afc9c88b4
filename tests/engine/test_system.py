"""Choosing the system as the page does it: the panel, the list at a point, and what follows the choice."""

import json

import pytest
from steelyard.bridge import Door


def opened(slug="trestle"):
    door = Door()
    ask(door, "show", width_px=863, height_px=522, strips_px=863, view="extended", side="forces")
    ask(door, "scenario", slug=slug)
    ask(door, "command", name="answers", args={"answers": "shown"})
    return door


def ask(door, do, **arguments):
    reply = json.loads(door.handle(json.dumps({"seq": 1, "do": do, **arguments})))
    assert reply["ok"], reply
    return reply


def forces(reply):
    """The ids of the forces that the table lists, and of those in the strips."""
    rows = {row["id"] for row in reply["panels"]["table"]["rows"]}
    bars = {record["of"] for record in reply["strips"]["records"] if record.get("of")}
    return {each for each in rows if each}, bars


def press(door, choice_id):
    """What the page does when one of the choices is pressed."""
    panel = ask(door, "show", selected=None)["panels"]["system"]
    ids = next(each["ids"] for each in panel["choices"] if each["id"] == choice_id)
    return ask(door, "command", name="isolate", args={"ids": ids})


def test_one_body_by_itself_offers_no_system():
    assert ask(opened("gangway"), "show", selected=None)["panels"]["system"] is None


def test_choices_list_every_body_with_the_things_on_it():
    panel = ask(opened(), "show", selected=None)["panels"]["system"]
    assert [(each["id"], each["kind"], each["on"]) for each in panel["choices"]] == [
        ("right-leg", "body", True),
        ("left-leg", "body", False),
        ("painter", "thing", False),
    ]
    assert (panel["title"], panel["follows"]) == ("Right leg", True)


def test_strips_and_table_follow_the_system_and_the_title_names_it():
    door = opened()
    reply = press(door, "left-leg")
    assert reply["panels"]["system"]["title"] == "Right leg and left leg taken as one"
    table, strips = forces(reply)
    assert table == {"painter", "right-foot", "spike"}
    assert strips <= table
    assert forces(ask(door, "undo"))[0] == {"right-foot", "top", "tie"}


def test_thing_taken_along_no_longer_pushes_but_is_pulled_by_the_earth():
    door = opened()
    press(door, "painter")
    reply = ask(door, "show", selected="painter")
    assert "painter" in reply["panels"]["system"]["title"]
    spoken = next(
        record["name"] for record in reply["picture"]["records"] if record["id"] == "painter" and record.get("name")
    )
    assert "by Earth on painter" in spoken


def test_following_the_selection_shows_the_partner_on_the_other_body_only():
    door = opened()
    here = ask(door, "show", selected="right-leg")
    there = ask(door, "show", selected="left-leg")
    for reply, mine, others in ((here, "top", "top-back"), (there, "top-back", "top")):
        drawn = {record.get("of") for record in reply["picture"]["records"]}
        assert mine in drawn and others not in drawn
    assert ask(door, "show", selected="top-back")["panels"]["system"]["title"] == "Left leg"


def test_list_at_a_point_offers_to_isolate_the_body_that_is_there():
    door = opened()
    reply = ask(door, "show", selected=None)
    middle = next(target for target in reply["picture"]["targets"] if target["of"] == "left-leg")["points_px"]
    point = [sum(x for x, _ in middle) / len(middle), sum(y for _, y in middle) / len(middle)]
    offers = [each for each in ask(door, "here", point_px=point, catch_px=8)["here"] if "command" in each]
    assert [each["name"] for each in offers] == ["left leg: isolate this"]
    command = offers[0]["command"]
    reply = ask(door, "command", name=command["name"], args=command["args"])
    assert reply["panels"]["system"]["title"] == "Left leg"
    assert not reply["panels"]["system"]["follows"]
    again = [each["name"] for each in ask(door, "here", point_px=point, catch_px=8)["here"] if "command" in each]
    assert again == []


@pytest.mark.parametrize("view", ["extended", "point", "polygon"])
def test_joint_inside_the_system_is_drawn_without_a_force(view):
    door = opened()
    press(door, "left-leg")
    reply = ask(door, "show", view=view)
    roles = {record["role"] for record in reply["picture"]["records"] if record.get("of") in ("top", "tie")}
    assert not any(role.startswith("arrow") for role in roles)
    assert (roles != set()) == (view == "extended")


def test_joined_to_field_is_offered_only_where_another_body_reaches():
    door = opened()
    for of, offered in (("top", ["", "left-leg"]), ("spike", None)):
        groups = ask(door, "show", selected=of)["panels"]["fields"]["groups"]
        items = {item["key"]: item for group in groups for item in group["items"]}
        found = [each["value"] for each in items["other"]["options"]] if "other" in items else None
        assert found == offered


def test_set_up_shows_the_arrows_on_every_body_and_no_answer_of_any_while_kept_back():
    door = opened()
    known = ask(door, "command", name="add", args={"tool": "force", "at": [2.4, 0.8], "to": [2.9, 0.8]})["created"]
    sought = ask(door, "command", name="add", args={"tool": "force", "at": [2.1, 1.2], "to": [2.1, 1.0]})["created"]
    ask(door, "command", name="set", args={"id": sought, "key": "role", "text": "size"})
    ask(door, "command", name="answers", args={"answers": "kept"})
    ask(door, "command", name="isolate", args={"ids": ["left-leg"]})
    reply = ask(door, "show", view="set-up", selected=None)
    drawn = {record["id"]: record for record in reply["picture"]["records"]}
    assert known in drawn and sought in drawn
    assert drawn[sought]["name"].endswith("unknown")
    # In the free body's own picture there are none of them.
    others = {record.get("of") for record in ask(door, "show", view="extended")["picture"]["records"]}
    assert known not in others and sought not in others


def test_fit_shows_the_system_beside_its_forces_and_the_whole_in_the_set_up():
    door = opened("hatch-block")
    ask(door, "command", name="isolate", args={"ids": ["lever"]})

    def reach(reply):
        """From the left end of the cover to the right end of the lever, in px."""
        ends = {target["of"]: target["points_px"] for target in reply["picture"]["targets"] if target["grip"] == "body"}
        return max(x for x, _ in ends["lever"]) - min(x for x, _ in ends["lever"])

    alone = reach(ask(door, "look", fit=True))
    ask(door, "show", view="set-up")
    assert alone > 1.2 * reach(ask(door, "look", fit=True))


def test_partner_card_of_a_joint_shows_the_other_body_and_of_a_rope_the_rope():
    door = opened()
    card = ask(door, "show", selected="top", partner="top")["panels"]["partner"]
    assert card["title"] == "left leg"
    assert "by right leg on left leg" in card["name"]
    assert any(record.get("name") == "left leg, bar" for record in card["picture"]["records"])
    rope = ask(door, "show", selected="tie", partner="tie")["panels"]["partner"]
    assert rope["title"] == "tie rope"
    assert "pulls the left leg just as hard" in rope["sentence"]


def test_problem_tells_every_joined_body_and_each_joint_once():
    text = ask(opened(), "show", selected=None)["panels"]["problem"]["text"]
    assert text.count("pinned to") == 1
    assert text.count("tie rope, a light rope,") == 1
    assert "right leg" in text and "left leg" in text
    assert "They are rigid and at rest" in text
