"""The one theme table: what every role of the display list looks like, on screen and in an exported figure.

`stylesheet()` writes it as CSS with custom properties (light, dark, forced colours, more contrast);
`attributes(role, shade)` writes the same as SVG presentation attributes. Font sizes are the exception: a
text record carries its own `font-size`, because the sheet's text scale enters it; runs are sized in em.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Shade = Literal["light", "dark"]

WORDS = "Alegreya Sans"
SIGNS = "STIX Two Text"
WORDS_STACK = '"Alegreya Sans", "Segoe UI", "Helvetica Neue", Arial, sans-serif'
SIGNS_STACK = '"STIX Two Text", "STIX Two Math", Cambria, Georgia, serif'

# The whole set of type sizes on the two drawings, in CSS pixels before the text scale.
EDGE_SIZE = 13.0
SMALL_SIZE = 15.0
COMPACT_SIZE = 17.0
LABEL_SIZE = 19.0

# Contrast of every text colour on paper, body and highlight is at least 4.5:1 in both shades (held by a test).
PALETTE: dict[Shade, dict[str, str]] = {
    "light": {
        "paper": "#fdfaf1",
        "margin": "#f3edde",
        "ink": "#1a2230",
        "soft": "#575e6b",
        "rule": "#d8cfb8",
        "cross": "#d3cab4",
        "known": "#0b4f8a",
        "unknown": "#a73408",
        "guess": "#00695a",
        "pivot": "#8c2468",
        "body": "#ead9b0",
        "brass": "#f1c84b",
        "on-known": "#ffffff",
    },
    "dark": {
        "paper": "#10151d",
        "margin": "#171e29",
        "ink": "#f2ecdc",
        "soft": "#aab0b8",
        "rule": "#333c4a",
        "cross": "#3a4453",
        "known": "#7ec0ff",
        "unknown": "#ff9d73",
        "guess": "#63d8bf",
        "pivot": "#f596d6",
        "body": "#4a4330",
        "brass": "#b98d16",
        "on-known": "#0b1420",
    },
}
BRASS_STRENGTH: dict[Shade, str] = {"light": "0.62", "dark": "0.34"}

# What stands in for the palette where the user's system imposes its own colours.
FORCED = {
    "paper": "Canvas",
    "margin": "Canvas",
    "ink": "CanvasText",
    "soft": "CanvasText",
    "rule": "GrayText",
    "cross": "GrayText",
    "known": "CanvasText",
    "unknown": "CanvasText",
    "guess": "CanvasText",
    "pivot": "LinkText",
    "body": "Canvas",
    "brass": "Highlight",
    "on-known": "Canvas",
}
# Where more contrast is asked for, quiet lines and words come forward.
MORE_CONTRAST: dict[Shade, dict[str, str]] = {
    "light": {"soft": "#333a47", "rule": "#6d6550", "cross": "#8b8168", "known": "#063a69", "unknown": "#7f2400"},
    "dark": {"soft": "#d6dae0", "rule": "#8a94a3", "cross": "#74808f", "known": "#a9d5ff", "unknown": "#ffbd9f"},
}


@dataclass(frozen=True, slots=True)
class Style:
    """The look of one role. Colours are palette names; empty means none. `weight` 0: the font is inherited."""

    fill: str = ""
    stroke: str = ""
    width: float = 0.0
    dash: str = ""
    cap: str = ""
    join: str = ""
    family: str = ""
    weight: int = 0
    italic: bool = False
    em: float = 0.0
    halo: float = 0.0
    brass: bool = False
    even_odd: bool = False


def _line(stroke: str, width: float, *, dash: str = "", cap: str = "round", fill: str = "") -> Style:
    return Style(fill=fill, stroke=stroke, width=width, dash=dash, cap=cap, join="round")


def _words(fill: str, weight: int = 500, *, halo: float = 0.0, italic: bool = False) -> Style:
    return Style(fill=fill, family=WORDS, weight=weight, halo=halo, italic=italic)


# While the components of the lit force carry the sums, the whole arrow fades.
CARRIED = {"known": ("arrow-known", "resultant"), "unknown": ("arrow-unknown",), "guess": ("guess-shaft", "guess-head")}
FADED = "0.5"

DASH_GUESS = "9 5"
DASH_ACTION = "16 4 2 4"
DOTS = "0.1 4"

STYLES: dict[str, Style] = {
    # the graduated edge
    "edge-margin": Style(fill="margin"),
    "edge-band": Style(fill="ink"),
    "edge-blank": Style(fill="paper"),
    "edge-line": Style(stroke="ink", width=1.0),
    "edge-number": _words("soft"),
    "edge-mark": Style(fill="brass", stroke="ink", width=1.0, join="round"),
    "cross": Style(stroke="cross", width=1.0),
    "glyph": _line("soft", 1.8),
    "glyph-text": _words("soft", halo=4.0),
    # what the body stands on
    "ground-hatch": _line("ink", 1.2),
    "ground-line": _line("ink", 1.8),
    "support-part": Style(fill="body", stroke="ink", width=1.5, join="round"),
    "support-hollow": Style(fill="paper", stroke="ink", width=1.6),
    "rope": _line("ink", 2.2),
    "rope-twist": _line("ink", 1.2),
    "anchor-dot": Style(fill="paper", stroke="ink", width=1.6),
    # the body
    "body": Style(fill="body", stroke="ink", width=1.9, join="round", even_odd=True),
    "body-other": Style(fill="margin", stroke="soft", width=1.4, join="round", even_odd=True),
    "body-middle": Style(stroke="soft", width=1.1),
    "mass-centre": Style(fill="paper", stroke="ink", width=1.5),
    "mass-centre-quarter": Style(fill="ink"),
    "thing": Style(fill="paper", stroke="ink", width=1.6, join="round"),
    "point-dot": Style(fill="ink", stroke="paper", width=1.5),
    # constructions
    "highlight": Style(stroke="brass", width=17.0, cap="round", join="round", brass=True),
    "highlight-area": Style(fill="brass", brass=True),
    "action": Style(stroke="ink", width=1.1, dash=DASH_ACTION),
    "arm": Style(stroke="pivot", width=1.8),
    "cone": _line("unknown", 1.1),
    "face": _line("unknown", 2.2, cap="butt"),
    "right-angle": Style(stroke="pivot", width=1.8),
    "arm-second": Style(stroke="pivot", width=1.1),
    "sense": Style(stroke="pivot", width=2.4),
    "sense-head": Style(fill="pivot"),
    "component-known": _line("known", 1.4),
    "component-unknown": _line("unknown", 1.4),
    "component-guess": _line("guess", 1.4),
    # givens
    "given-line": Style(stroke="soft", width=1.2),
    "given-extension": Style(stroke="soft", width=0.9),
    "given-head": Style(fill="soft"),
    "given-label": _words("ink", halo=5.0),
    "given-glow": Style(stroke="brass", width=11.0, cap="round", join="round", brass=True),
    # forces
    "arrow-known": Style(fill="known"),
    "arrow-unknown": Style(fill="paper", stroke="unknown", width=1.9, join="miter"),
    "guess-shaft": Style(stroke="guess", width=2.6, dash=DASH_GUESS),
    "guess-head": _line("guess", 2.4),
    # a spread load, and the one force it comes to
    "spread-line": _line("known", 1.3),
    "spread-head": Style(fill="known"),
    "resultant": _line("known", 1.5),
    "break-known": _line("known", 1.6),
    "break-unknown": _line("unknown", 1.6),
    "break-guess": _line("guess", 1.6),
    "unknown-line": Style(stroke="unknown", width=1.3, dash=DASH_ACTION),
    "as-drawn": _line("unknown", 1.2),
    "slack": _line("unknown", 1.8),
    "strike": _line("ink", 2.4),
    "bars": _line("unknown", 1.8, cap="butt"),
    "ring": Style(stroke="unknown", width=0.9),
    "ring-head": _line("unknown", 1.8),
    "tail": Style(fill="ink", stroke="paper", width=1.5),
    # forces alone
    "closing": Style(stroke="ink", width=1.4),
    "projection": _line("soft", 1.2, dash=DOTS),
    "gap": _line("ink", 1.3, cap="butt"),
    "meeting": Style(stroke="ink", width=1.8),
    "inset-words": _words("ink"),
    # pivot
    "pivot": Style(stroke="pivot", width=2.2),
    "pivot-second": Style(stroke="pivot", width=1.4),
    # labels
    "label-known": _words("known", halo=5.0),
    "label-unknown": _words("unknown", halo=5.0),
    "label-guess": _words("guess", halo=5.0),
    "label-pivot": _words("pivot", halo=5.0),
    "label-plain": _words("ink", halo=5.0),
    "caption": _words("soft", 400, halo=5.0),
    "leader": _line("soft", 1.0),
    # screen only
    "grip": Style(fill="paper", stroke="ink", width=2.0),
    "grip-guess": Style(fill="paper", stroke="guess", width=2.0),
    "selected-outline": _line("ink", 1.2),
    "try": Style(stroke="pivot", width=1.5),
    "try-text": _words("pivot", halo=5.0),
    "snap": Style(stroke="pivot", width=2.0),
    "snap-text": _words("pivot", halo=5.0),
    "ghost": _line("soft", 1.6),
    "let-go": Style(stroke="soft", width=1.6, join="round"),
    "ghost-dot": Style(fill="paper", stroke="soft", width=1.6),
    "ghost-text": _words("soft"),
    # strips
    "rail": Style(stroke="ink", width=1.0),
    "zero": Style(stroke="ink", width=2.2),
    "segment-known": Style(fill="known"),
    "segment-unknown": Style(fill="paper", stroke="unknown", width=2.0),
    "segment-guess": Style(fill="paper", stroke="guess", width=2.0, dash="6 4"),
    "segment-open": Style(stroke="unknown", width=2.0),
    "segment-faded": Style(stroke="cross", width=1.2),
    "segment-break": _line("paper", 3.0),
    "segment-text-known": _words("on-known"),
    "segment-text-unknown": _words("unknown", halo=4.0),
    "segment-text-guess": _words("guess", halo=4.0),
    "segment-text-faded": _words("soft", halo=4.0),
    "needed": Style(fill="paper", stroke="ink", width=1.2),
    "needed-hatch": Style(stroke="ink", width=1.6),
    "open-hatch": Style(stroke="unknown", width=1.4),
    "row-label": _words("ink"),
    "row-label-faded": _words("soft"),
    "side-sum": _words("soft", 400),
    "row-sum": _words("ink", 700),
    "row-sum-faded": _words("soft"),
    "row-note": _words("soft", 400, halo=4.0),
    "scale-note": _words("soft", 400),
    "check": _line("ink", 2.4),
    # runs inside a text
    "symbol": Style(family=SIGNS, weight=400, italic=True, em=1.12),
    "sub": Style(family=SIGNS, weight=400, italic=True, em=0.84),
    "sub-upright": Style(family=SIGNS, weight=400, em=0.84),
    "sign": Style(family=SIGNS, weight=400, em=1.05),
    "value": Style(),
    "plain": Style(),
    "strong": Style(family=WORDS, weight=700),
}

# Runs that can stand inside a text element; everything else is a record's own role.
RUN_ROLES = ("symbol", "sub", "sub-upright", "sign", "value", "plain", "strong")


def style_of(role: str) -> Style:
    """The style of a role; KeyError for a role the table does not know."""
    return STYLES[role]


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _declarations(style: Style, paint: dict[str, str], strength: str, *, run: bool) -> list[tuple[str, str]]:
    """(property, value) pairs; presentation attributes and CSS share these names."""
    pairs: list[tuple[str, str]] = []
    text = bool(style.family)
    if not run:
        pairs.append(("fill", paint[style.fill] if style.fill else "none"))
        if style.halo:
            pairs += [
                ("stroke", paint["paper"]),
                ("stroke-width", _number(style.halo)),
                ("stroke-linejoin", "round"),
                ("paint-order", "stroke"),
            ]
        elif style.stroke:
            pairs += [("stroke", paint[style.stroke]), ("stroke-width", _number(style.width))]
        elif not text:
            pairs.append(("stroke", "none"))
    if style.brass:
        pairs.append(("fill-opacity" if style.fill else "stroke-opacity", strength))
    if style.dash:
        pairs.append(("stroke-dasharray", style.dash))
    if style.cap:
        pairs.append(("stroke-linecap", style.cap))
    if style.join:
        pairs.append(("stroke-linejoin", style.join))
    if style.even_odd:
        pairs.append(("fill-rule", "evenodd"))
    if text:
        pairs.append(("font-family", WORDS_STACK if style.family == WORDS else SIGNS_STACK))
        pairs.append(("font-weight", str(style.weight)))
        pairs.append(("font-style", "italic" if style.italic else "normal"))
    if style.em:
        pairs.append(("font-size", f"{_number(style.em)}em"))
    return pairs


def attributes(role: str, shade: Shade = "light") -> dict[str, str]:
    """The role as SVG presentation attributes with plain colours, for an exported figure; KeyError if unknown."""
    run = role in RUN_ROLES
    return dict(_declarations(STYLES[role], PALETTE[shade], BRASS_STRENGTH[shade], run=run))


def _properties(values: dict[str, str]) -> str:
    return " ".join(f"--{name}: {value};" for name, value in values.items())


def stylesheet() -> str:
    """The theme as CSS: palette variables, a class `sy-<role>` each, and how lighting shows and hides records.

    A record with `shown` "lit" is painted with class `of-lit` and is invisible until it also has `lit` (or
    `pinned`). The palette follows `data-shade` on the root element.
    """
    references = {name: f"var(--{name})" for name in PALETTE["light"]}
    lines = [
        f":root {{ color-scheme: light; {_properties(PALETTE['light'])} "
        f"--brass-strength: {BRASS_STRENGTH['light']}; }}",
        f':root[data-shade="dark"] {{ color-scheme: dark; {_properties(PALETTE["dark"])} '
        f"--brass-strength: {BRASS_STRENGTH['dark']}; }}",
        "@media (prefers-contrast: more) {",
        f"  :root {{ {_properties(MORE_CONTRAST['light'])} }}",
        f'  :root[data-shade="dark"] {{ {_properties(MORE_CONTRAST["dark"])} }}',
        "}",
        "@media (forced-colors: active) {",
        f"  :root, :root[data-shade] {{ {_properties(FORCED)} --brass-strength: 0.5; }}",
        "}",
    ]
    for role, style in STYLES.items():
        run = role in RUN_ROLES
        pairs = _declarations(style, references, "var(--brass-strength)", run=run)
        if style.family and not run:
            pairs.append(("font-variant-numeric", "lining-nums tabular-nums"))
        if pairs:
            body = " ".join(f"{name}: {value};" for name, value in pairs)
            lines.append(f".sy-{role} {{ {body} }}")
    lines.append(".of-lit:not(.lit, .pinned) { display: none; }")
    for kind, roles in CARRIED.items():
        arrow = ", ".join(f".sy-{role}.lit" for role in roles)
        lines.append(f"svg:has(.sy-component-{kind}.lit) :is({arrow}) {{ opacity: {FADED}; }}")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    print(stylesheet(), end="")
