"""Fields of a body, and of its weight."""

from __future__ import annotations

from ..model import AddedPiece, Body, Settings, Sketch
from ..statics import shape
from ..statics.reading import ForceReading
from . import answers
from .item import Item, Option, action, choice, quantity, switch, text_field
from .partner import partner_action
from .parts import Fields, edit_actions, group, of_thing, pin_action
from .system import isolate_actions
from .words import BODY_WORDS, force_title

_PIECE_SHAPES = tuple(Option(each, each) for each in shape.PIECE_SHAPES)


def body_fields(sketch: Sketch, body: Body, weight: ForceReading | None) -> Fields:
    """Fields of a body; with `weight`, those of its weight alone."""
    settings = sketch.settings
    word = BODY_WORDS[body.kind]
    mass = quantity(
        "mass",
        "mass of the shape" if body.pieces else "mass",
        body.mass_kg,
        "mass",
        settings,
        spoken=f"mass of {body.name or word}",
    )
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
            *_pieces(body, settings),
            *([] if body.pieces else [weight_item, *letter, *_centre(body, settings)]),
            *_add_piece(body),
            *isolate_actions(sketch, body.id),
            *edit_actions(body.id, body.name or word),
        ),
    )


def _main_shape(body: Body, settings: Settings) -> list[Item]:
    start = {"bar": "start", "disc": "centre"}.get(body.kind, "first corner")
    items = [
        quantity(
            "x", "start x" if body.kind == "bar" else "x", body.origin_m[0], "length", settings, spoken=f"{start}, x"
        ),
        quantity("y", "y", body.origin_m[1], "length", settings, spoken=f"{start}, y"),
    ]
    if body.kind == "bar":
        items.append(quantity("length", "length", body.length_m, "length", settings))
    if body.kind == "disc":
        items.append(quantity("radius", "radius", body.radius_m, "length", settings))
    else:
        items.append(_angle(body, settings))
    return items


def _angle(body: Body, settings: Settings) -> Item:
    return quantity("angle", "angle", body.angle_deg, "angle", settings, spoken="angle from the x direction")


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
    if body.kind == "disc":
        items.append(_angle(body, settings))
    for index in range(len(body.round_holes)):
        items += _round_hole(body, index, settings)
    if not body.has_area:
        items.append(quantity("thickness", "drawn thickness", body.thickness_m, "length", settings))
    return items


def _round_hole(body: Body, index: int, settings: Settings) -> list[Item]:
    """Centre and radius of a round hole, and the button that fills it."""
    hole = body.round_holes[index]
    word = f"hole {index + 1}" if len(body.round_holes) > 1 else "hole"
    x, y = hole.centre_m
    return [
        quantity(f"hole{index}_x", f"{word} x", x, "length", settings, spoken=f"centre of {word}, x in its own frame"),
        quantity(f"hole{index}_y", "y", y, "length", settings, spoken=f"centre of {word}, y in its own frame"),
        quantity(f"hole{index}_radius", "radius", hole.radius_m, "length", settings, spoken=f"radius of {word}"),
        action(f"hole{index}_fill", f"Fill {word}", "delete", {"id": body.id, "hole": index + 1}),
    ]


def _pieces(body: Body, settings: Settings) -> list[Item]:
    """Mass, place and shape of each piece fixed to the body, and the button that takes it off."""
    items: list[Item] = []
    for index, piece in enumerate(body.pieces):
        word = f"piece {index + 1}" if len(body.pieces) > 1 else "piece"
        x, y = piece.centre_m
        items += [
            quantity(f"piece{index}_mass", word, piece.mass_kg, "mass", settings, spoken=f"mass of {word}"),
            quantity(f"piece{index}_x", "x", x, "length", settings, spoken=f"centre of {word}, x in the body's frame"),
            quantity(f"piece{index}_y", "y", y, "length", settings, spoken=f"centre of {word}, y in the body's frame"),
            choice(f"piece{index}_shape", "", shape.piece_shape(piece), _PIECE_SHAPES, spoken=f"shape of {word}"),
        ]
        items += _sides(index, piece, word, settings)
        items.append(action(f"piece{index}_off", f"Take {word} off", "delete", {"id": body.id, "piece": index + 1}))
    return items


def _add_piece(body: Body) -> list[Item]:
    """The button for one more piece, where the mass of the body is not given as a whole."""
    whole = body.weight_n is not None or body.weight_symbol_only or body.centre_m is not None
    return [] if whole else [action("add_piece", "Fix a piece to it", "piece", {"id": body.id})]


def _sides(index: int, piece: AddedPiece, word: str, settings: Settings) -> list[Item]:
    """The sizes that the shape of a piece has."""
    named = {"radius": piece.radius_m, "width": piece.width_m, "height": piece.height_m}
    called = "length" if piece.height_m == 0.0 else "width"
    items = [
        quantity(f"piece{index}_{key}", called if key == "width" else key, value, "length", settings,
                 spoken=f"{called if key == 'width' else key} of {word}")
        for key, value in named.items()
        if value > 0.0
    ]  # fmt: skip
    if piece.width_m > 0.0:
        spoken = f"angle of {word} in the body's frame"
        items.append(quantity(f"piece{index}_angle", "angle", piece.angle_deg, "angle", settings, spoken=spoken))
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
