"""Fields of a body, and of its weight."""

from __future__ import annotations

from ..model import Body, Settings, Sketch
from ..statics import shape
from ..statics.reading import ForceReading
from . import answers
from .item import Item, quantity, switch, text_field
from .partner import partner_action
from .parts import Fields, edit_actions, group, of_thing, pin_action
from .system import isolate_actions
from .words import BODY_WORDS, force_title


def body_fields(sketch: Sketch, body: Body, weight: ForceReading | None) -> Fields:
    """Fields of a body; with `weight`, those of its weight alone."""
    settings = sketch.settings
    word = BODY_WORDS[body.kind]
    mass = quantity("mass", "mass", body.mass_kg, "mass", settings, spoken=f"mass of {body.name or word}")
    weight_item = quantity("weight", "weight", _weight(body, settings), "force", settings, spoken="weight")
    letter = (
        text_field("weight_symbol", "weight letter", body.weight_symbol),
        switch("weight_symbol_only", "weight as a letter only", body.weight_symbol_only),
    )
    if weight is not None:
        return of_thing(
            weight.force.id,
            force_title(weight.force),
            body.weight_symbol,
            "weight",
            "known",
            group("main", "", mass, weight_item, *answers.known_direction(weight, settings)),
            group(
                "more",
                "More",
                *letter,
                *_centre(body, settings),
                pin_action(sketch, weight.force.id),
                *partner_action(weight),
            ),
        )
    return of_thing(
        body.id,
        body.name or word,
        "",
        body.kind,
        "body",
        group("main", "", *_main_shape(body, settings), mass),
        group(
            "more",
            "More",
            text_field("name", "name", body.name, spoken=f"name of the {word}"),
            *_further_shape(body, settings),
            weight_item,
            *letter,
            *_centre(body, settings),
            *isolate_actions(sketch, body.id),
            *edit_actions(body.id, body.name or word),
        ),
    )


def _main_shape(body: Body, settings: Settings) -> list[Item]:
    start = "start" if body.kind == "bar" else "first corner"
    items = [
        quantity(
            "x", "start x" if body.kind == "bar" else "x", body.origin_m[0], "length", settings, spoken=f"{start}, x"
        ),
        quantity("y", "y", body.origin_m[1], "length", settings, spoken=f"{start}, y"),
    ]
    if body.kind == "bar":
        items.append(quantity("length", "length", body.length_m, "length", settings))
    items.append(quantity("angle", "angle", body.angle_deg, "angle", settings, spoken="angle from the x direction"))
    return items


def _further_shape(body: Body, settings: Settings) -> list[Item]:
    """The far end of a bar, the corners of the others in their own frame, the drawn thickness."""
    items: list[Item] = []
    if body.kind == "bar":
        x, y = shape.ends(body)[1]
        items.append(quantity("end_x", "end x", x, "length", settings, spoken="end, x"))
        items.append(quantity("end_y", "y", y, "length", settings, spoken="end, y"))
    for index, (x, y) in enumerate(body.points_m):
        said = f"corner {index + 1}"
        items.append(
            quantity(f"corner{index}_x", f"{said} x", x, "length", settings, spoken=f"{said}, x in its own frame")
        )
        items.append(quantity(f"corner{index}_y", "y", y, "length", settings, spoken=f"{said}, y in its own frame"))
    if body.kind != "plate":
        items.append(quantity("thickness", "drawn thickness", body.thickness_m, "length", settings))
    return items


def _centre(body: Body, settings: Settings) -> list[Item]:
    """The centre of mass set by hand; empty while it follows from the shape."""
    word = settings.mass_centre_word
    x, y = body.centre_m or (None, None)
    return [
        quantity("centre_x", f"{word} x", x, "length", settings, spoken=f"{word} set by hand, x in the body's frame"),
        quantity("centre_y", "y", y, "length", settings, spoken=f"{word} set by hand, y in the body's frame"),
    ]


def _weight(body: Body, settings: Settings) -> float | None:
    if body.weight_n is not None:
        return body.weight_n
    return None if body.mass_kg is None else body.mass_kg * settings.g_m_s2
