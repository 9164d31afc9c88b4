"""The settings list: how a sketch is read and shown, as fields changed by the command `settings {key, text}`."""

from __future__ import annotations

from ..model import Sketch
from .item import Item, Option, choice, quantity, switch

# Offered values of g. 9.81 and 9.8 are common practice in textbooks; 9.80665 is the standard acceleration of
# free fall (3rd General Conference on Weights and Measures, 1901); 32.2 ft/s² is its usual figure in feet.
OFFERED_G = (
    ("9.81 m/s²", "9.81 m/s²"),
    ("9.80665 m/s²", "9.80665 m/s², standard"),
    ("9.8 m/s²", "9.8 m/s²"),
    ("10 m/s²", "10 m/s²"),
    ("32.2 ft/s²", "32.2 ft/s²"),
)


def settings_items(sketch: Sketch) -> list[Item]:
    """Every setting of the sketch as a field, in the order people look for them."""
    settings = sketch.settings
    turning = settings.turning_word
    counter = settings.counterclockwise_word
    return [
        quantity(
            "g_m_s2",
            "g",
            settings.g_m_s2,
            "acceleration",
            settings,
            spoken="acceleration of gravity g",
            options=tuple(Option(value, text) for value, text in OFFERED_G),
        ),
        choice(
            "counterclockwise_positive",
            "positive turning",
            "true" if settings.counterclockwise_positive else "false",
            (Option("true", counter), Option("false", "clockwise")),
        ),
        choice(
            "significant_figures",
            "figures",
            str(settings.significant_figures),
            tuple(Option(str(count), str(count)) for count in range(2, 7)),
            spoken="significant figures",
        ),
        choice(
            "decimal_comma",
            "decimals",
            "true" if settings.decimal_comma else "false",
            (Option("false", "point, 1.5"), Option("true", "comma, 1,5")),
            spoken="decimal sign",
        ),
        choice(
            "two_sided",
            "sums",
            "true" if settings.two_sided else "false",
            (Option("false", "all together = 0"), Option("true", "one way = the other way")),
            spoken="how sums are written",
        ),
        choice(
            "torque_form",
            f"{turning} as",
            settings.torque_form,
            (
                Option("arm", f"force × moment arm, F {settings.arm_letter}"),
                Option("square", "distance × part square to it, r F sin φ"),
                Option("components", "from components, x F_y − y F_x"),
            ),
            spoken=f"how a {turning} is written",
        ),
        choice(
            "arm_letter",
            "moment arm",
            settings.arm_letter,
            tuple(Option(letter, letter) for letter in ("d", "r⊥", "ℓ")),
            spoken="letter of a moment arm",
        ),
        choice(
            "axes_along",
            "x axis",
            settings.axes_along or "",
            (Option("", "level"), *(Option(body.id, f"along {body.name}") for body in sketch.bodies)),
            spoken="what the x axis follows",
        ),
        quantity("axes_deg", "axes turned by", settings.axes_deg, "angle", settings),
        choice("units", "units", settings.units, (Option("si", "m, N, kg"), Option("us", "ft, lbf, lb"))),
        choice(
            "turning_word",
            "word for turning",
            turning,
            (Option("torque", "torque τ"), Option("moment", "moment M")),
        ),
        choice(
            "pivot_word",
            "word for the point",
            settings.pivot_word,
            (Option("pivot", "pivot"), Option("moment centre", "moment centre")),
        ),
        choice(
            "mass_centre_word",
            "word for the centre",
            settings.mass_centre_word,
            (Option("centre of mass", "centre of mass"), Option("centre of gravity", "centre of gravity")),
        ),
        choice(
            "counterclockwise_word",
            "word for the sense",
            counter,
            (Option("counterclockwise", "counterclockwise"), Option("anticlockwise", "anticlockwise")),
        ),
        choice(
            "seen_from",
            "seen from",
            settings.seen_from,
            (Option("side", "the side"), Option("above", "above: no weight in the page")),
        ),
        choice(
            "unknowns_drawn",
            "unknown direction",
            settings.unknowns_drawn,
            (Option("components", "two components"), Option("ring", "ring of heads")),
            spoken="how an unknown direction is drawn when kept back",
        ),
        switch("snap", "snap", settings.snap, spoken="snap to points and directions"),
        switch("all_constructions", "all lines and arms", settings.all_constructions),
    ]
