"""The exported figure holds the same records as the live picture, and stands on its own."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from picture_cases import every_picture, picture, states
from steelyard.picture import svg, theme

NAMESPACE = "{http://www.w3.org/2000/svg}"
PICTURES = {name: drawn for name, _, drawn in every_picture() if "1366x768" in name}


@pytest.mark.parametrize("name", PICTURES)
def test_every_record_shown_is_written_once_with_its_attributes_style_and_runs(name: str) -> None:
    drawn = PICTURES[name]
    root = ET.fromstring(svg.write(drawn, "light", title="Figure"))
    written = {each.get("id"): each for each in root.iter() if each.get("id") and not each.tag.endswith("}g")}
    painted = svg.painted(drawn)
    assert list(written) == [record.id for record in painted]
    for record in painted:
        element = written[record.id]
        assert element.tag == f"{NAMESPACE}{record.tag}"
        assert element.get("class") == f"sy-{record.role}"
        for key, value in {**theme.attributes(record.role), **dict(record.attrs)}.items():
            assert element.get(key) == value, (record.id, key)
        spans = element.findall(f"{NAMESPACE}tspan")
        assert [span.text or "" for span in spans] == [run.text for run in record.runs]


def test_screen_only_and_unlit_records_stay_out_of_the_figure() -> None:
    drawn = picture(states()["shown"], selected="hoist")
    assert any(record.layer == "overlay" for record in drawn.records)
    painted = svg.painted(drawn)
    assert all(record.layer != "overlay" and record.shown == "always" for record in painted)
    assert {record.of for record in svg.painted(drawn, lit="hoist") if record.shown == "lit"} == {"hoist"}


def test_the_figure_states_its_size_has_one_title_and_refers_to_nothing_outside() -> None:
    text = svg.write(picture(states()["shown"]), title="Gangway <svg onload=x>", desc="A bar & a rope")
    root = ET.fromstring(text)
    assert root.tag == f"{NAMESPACE}svg"
    assert root.get("viewBox") == "0,0,863,522" or root.get("viewBox") == "0 0 863 522"
    assert root.get("width") == "863px" and root.get("height") == "522px"
    titles = root.findall(f"{NAMESPACE}title")
    assert [each.text for each in titles] == ["Gangway <svg onload=x>"]
    assert root.find(f"{NAMESPACE}desc") is not None
    assert not [each for each in root.iter() if re.search(r"script|foreignObject|image|use$", each.tag)]
    assert not re.search(r'(href|src)\s*=|url\((?!")|@import', text)


def test_dark_figures_use_the_dark_palette() -> None:
    text = svg.write(picture(states()["shown"]), "dark")
    assert theme.PALETTE["dark"]["unknown"] in text
    assert theme.PALETTE["light"]["unknown"] not in text
