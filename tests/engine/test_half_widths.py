"""Half-widths in a sketch: named by the path of a number, strictly read, and gone with what they belong to."""

import json
from dataclasses import replace

import pytest
from steelyard import document, shelf
from steelyard.document.paths import number_at, numbers, with_number
from steelyard.edit.commands import apply
from steelyard.errors import SteelyardError
from steelyard.model import HalfWidth, Sketch

GANGWAY = shelf.load("gangway")
MEASURED = replace(GANGWAY, half_widths=(HalfWidth("walker.mass_kg", 2.0), HalfWidth("hoist.anchor_m[1]", 0.05)))


def complaint(*half_widths: tuple[str, object]) -> SteelyardError:
    data = document.to_data(GANGWAY)
    data["half_widths"] = [{"path": path, "half_width": width} for path, width in half_widths]
    with pytest.raises(SteelyardError) as caught:
        document.from_data(data)
    return caught.value


def test_half_widths_come_back_as_they_were_written():
    assert document.read(document.write(MEASURED)) == MEASURED
    assert json.loads(document.write(MEASURED))["half_widths"][0] == {"path": "walker.mass_kg", "half_width": 2.0}
    assert "half_widths" not in document.to_data(GANGWAY)


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("walker.mas_kg", "Did you mean `walker.mass_kg`?"),
        ("walkr.mass_kg", "Did you mean `walker`?"),
        ("walker", "Write an id, a point and a field"),
        ("walker.place_m", "Did you mean `walker.place_m[0]`?"),
        ("hoist.anchor_m[2]", "Did you mean `hoist.anchor_m[0]`?"),
        ("hoist.normal_deg", "Those of `hoist` are place_m[0], place_m[1], anchor_m[0], anchor_m[1]."),
        ("gangway.thickness_m", "Those of `gangway` are"),
        ("gangway.weight_n", "Those of `gangway` are"),
        ("settings.significant_figures", "Those of `settings` are g_m_s2."),
        ("loads[7].mass_kg", "They are counted from 0."),
    ],
)
def test_path_that_names_no_number_is_refused_with_those_there_are(path, said):
    problem = complaint((path, 1.0))
    assert problem.where == "half_widths[0].path"
    assert said in problem.hint


def test_half_width_is_positive_given_once_and_named_by_id():
    assert complaint(("walker.mass_kg", 0.0)).message == "`half_widths[0].half_width` must be more than 0: got 0.0."
    assert "which is also `half_widths[0].path`" in complaint(("walker.mass_kg", 1.0), ("walker.mass_kg", 2.0)).message
    assert complaint(("loads[0].mass_kg", 1.0)).hint == 'Write "walker.mass_kg".'


@pytest.mark.parametrize("slug", [each.slug for each in shelf.listing()])
def test_every_number_is_found_by_its_path_and_by_its_place_in_the_document(slug):
    sketch = shelf.load(slug)
    data = document.to_data(sketch)
    every = numbers(sketch)
    assert len({number.path for number in every}) == len(every) > 5
    for number in every:
        assert number_at(sketch, number.path) == number
        moved = with_number(sketch, number, number.value + 0.25)
        assert number_at(moved, number.path).value == number.value + 0.25
        assert with_number(moved, number, number.value) == sketch
    for kind in ("bodies", "supports", "loads"):
        for index, entry in enumerate(data.get(kind, [])):
            for key, value in entry.items():
                path = f"{kind}[{index}].{key}"
                if key.endswith(("_kg", "_n")) and isinstance(value, float):
                    assert number_at(sketch, path).value == value


def test_half_width_goes_with_its_thing_and_with_its_number():
    without = apply(MEASURED, "delete", {"id": "walker"}).sketch
    assert [each.path for each in without.half_widths] == ["hoist.anchor_m[1]"]
    lettered = apply(MEASURED, "set", {"id": "walker", "key": "mass", "text": ""}).sketch
    assert number_paths(lettered) >= {each.path for each in lettered.half_widths}


def number_paths(sketch: Sketch) -> set[str]:
    return {number.path for number in numbers(sketch)}
