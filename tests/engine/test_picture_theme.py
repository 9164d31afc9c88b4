"""One theme table: the stylesheet and the exported attributes say the same, and everything can be read."""

from __future__ import annotations

import re

import pytest
from steelyard.picture import theme

SHADES = ("light", "dark")


def luminance(colour: str) -> float:
    """Relative luminance of WCAG 2.2."""
    parts = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(first: str, second: str) -> float:
    """Contrast ratio of WCAG 2.2."""
    high, low = sorted((luminance(first), luminance(second)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def over(front: str, strength: float, back: str) -> str:
    """A see-through colour over another."""
    mixed = [
        round(int(front[start : start + 2], 16) * strength + int(back[start : start + 2], 16) * (1 - strength))
        for start in (1, 3, 5)
    ]
    return "#" + "".join(f"{part:02x}" for part in mixed)


@pytest.mark.parametrize("shade", SHADES)
def test_every_text_colour_stands_out_4_5_to_1_on_paper_margin_and_body(shade: theme.Shade) -> None:
    # WCAG 2.2, success criterion 1.4.3.
    palette = theme.PALETTE[shade]
    for role, style in theme.STYLES.items():
        if not style.family or not style.fill or style.fill == "on-known":
            continue
        grounds = ["paper"] if style.halo else ["paper", "margin"]
        for ground in grounds:
            assert contrast(palette[style.fill], palette[ground]) >= 4.5, (role, ground)
    for name in ("known", "unknown", "guess", "pivot", "ink"):
        assert contrast(palette[name], palette["body"]) >= 4.5, name
        lit = over(palette["brass"], float(theme.BRASS_STRENGTH[shade]), palette["paper"])
        assert contrast(palette[name], lit) >= 4.5, name
    assert contrast(palette["on-known"], palette["known"]) >= 4.5


@pytest.mark.parametrize("shade", SHADES)
def test_every_stroke_that_carries_meaning_stands_out_3_to_1(shade: theme.Shade) -> None:
    # WCAG 2.2, success criterion 1.4.11. Crosses, faded segments and the brass band repeat what is said elsewhere.
    palette = theme.PALETTE[shade]
    for role, style in theme.STYLES.items():
        if style.stroke in ("", "cross", "rule", "brass", "paper"):
            continue
        assert contrast(palette[style.stroke], palette["paper"]) >= 3.0, role


def rules() -> dict[str, dict[str, str]]:
    """The stylesheet's own rules by role, custom properties put in for the light shade."""
    found = {}
    for role, body in re.findall(r"^\.sy-([a-z-]+) \{ (.*) \}$", theme.stylesheet(), re.M):
        declarations = dict(part.split(": ", 1) for part in body.rstrip(";").split("; "))
        found[role] = {
            name: re.sub(
                r"var\(--([a-z-]+)\)",
                lambda match: {**theme.PALETTE["light"], "brass-strength": theme.BRASS_STRENGTH["light"]}[match[1]],
                value,
            )
            for name, value in declarations.items()
        }
    return found


def test_the_stylesheet_and_the_exported_attributes_say_the_same_for_every_role() -> None:
    sheet = rules()
    for role in theme.STYLES:
        css = {name: value for name, value in sheet.get(role, {}).items() if name != "font-variant-numeric"}
        assert css == theme.attributes(role), role


def test_forced_colours_and_the_dark_shade_name_every_colour() -> None:
    assert set(theme.FORCED) == set(theme.PALETTE["light"]) == set(theme.PALETTE["dark"])
    assert "forced-colors: active" in theme.stylesheet()
    assert 'data-shade="dark"' in theme.stylesheet()


def test_known_unknown_and_guess_differ_without_colour() -> None:
    known, unknown, guess = (theme.STYLES[role] for role in ("arrow-known", "arrow-unknown", "guess-shaft"))
    assert known.fill and not known.stroke
    assert unknown.fill == "paper" and unknown.stroke and not unknown.dash
    assert guess.dash and not guess.fill
    segments = [theme.STYLES[f"segment-{kind}"] for kind in ("known", "unknown", "guess")]
    assert len({(style.fill == "paper", bool(style.stroke), bool(style.dash)) for style in segments}) == 3


def test_no_text_is_smaller_than_twelve_px_and_there_are_four_sizes() -> None:
    sizes = {theme.EDGE_SIZE, theme.SMALL_SIZE, theme.COMPACT_SIZE, theme.LABEL_SIZE}
    assert min(sizes) >= 12.0 and len(sizes) == 4
    assert min(sizes) * theme.STYLES["sub"].em >= 10.9
    assert theme.COMPACT_SIZE * theme.STYLES["sub"].em >= 12.0
