"""How sure the reactions are, on the page: kept back with the answers, told from the table's values, typed beside."""

from __future__ import annotations

from app_page import AppPage

MASS = "half-width of the walker's mass"
FAR_END = "half-width of the far end of T, y"


def typed(app: AppPage, label: str, text: str) -> None:
    field = app.page.get_by_role("spinbutton", name=label)
    field.fill(text)
    field.press("Enter")
    app.holds("document.activeElement.id === 'desk'")  # the field is left once its text stands


def rows(app: AppPage) -> dict[str, str]:
    """By the force and what of it: what its row says."""
    found = {}
    for item in app.page.locator(".unsure-rows > li").all():
        found[item.get_attribute("data-key") or ""] = " ".join(item.inner_text().split())
    return found


def size_and_width(row: str) -> tuple[float, float]:
    value, _, rest = row.partition(" ± ")
    return float(value.split()[-2].replace("\u2009", "")), float(rest.split()[0])


def test_reactions_say_how_sure_they_are_and_what_matters_most(app: AppPage) -> None:
    app.page.get_by_role("tab", name="Forces", exact=True).click()
    app.holds("document.getElementById('problem').hidden === false")
    assert app.page.locator("#unsure").is_hidden()  # answers are kept back
    app.painted(app.page.locator(".answers-button").click)
    app.page.locator("#unsure").wait_for()
    assert rows(app) == {}
    app.select("walker")
    typed(app, MASS, "2")
    assert "most from the walker's mass at worst 2121 N to 2171 N" in rows(app)["hoist.size"]
    size, by_mass = size_and_width(rows(app)["hoist.size"])
    # d_P over d_T, as in the scenario's formula: 3.913 m over 3.039 m.
    assert size == 2146.0
    assert by_mass == float(f"{2 * 9.80665 * 3.9126 / 3.03937:.2g}")
    app.select("hoist")
    typed(app, FAR_END, "5 cm")
    assert app.page.get_by_role("spinbutton", name=FAR_END).input_value() == "0.05"
    size, both = size_and_width(rows(app)["hoist.size"])
    assert both > by_mass
    assert "most from the far end of T, y" in rows(app)["hinge.size"]
    app.painted(lambda: app.page.keyboard.press("Control+z"))
    assert size_and_width(rows(app)["hoist.size"])[1] == by_mass
    app.painted(app.page.locator(".answers-button").click)
    assert app.page.locator("#unsure").is_hidden()
    assert app.heard == []


def test_a_negative_half_width_is_complained_of_beside_the_field(app: AppPage) -> None:
    app.page.get_by_role("tab", name="Forces", exact=True).click()
    app.painted(app.page.locator(".answers-button").click)
    app.select("walker")
    field = app.page.get_by_role("spinbutton", name=MASS)
    field.fill("-2")
    app.page.locator("#unsure .fields-complaint").wait_for()
    assert "must be zero or more" in app.page.locator("#unsure .fields-complaint").inner_text()
    app.painted(lambda: field.press("Escape"))
    assert app.page.locator("#unsure .fields-complaint").is_hidden()
