"""Every field a document may hold, in one table: the reader, the writer and the schema are all made from it.

The order of the entries is the order in which they are written. Defaults are those of the model's
dataclasses, so nothing is said twice.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Any, Literal, get_args

from .. import model

Shape = Literal[
    "id",
    "reference",
    "text",
    "choice",
    "number",
    "integer",
    "switch",
    "point",
    "points",
    "holes",
    "round-holes",
    "pieces",
    "guess",
    "ids",
    "measured",
]

ID_PATTERN = r"^[a-z][a-z0-9-]{0,31}$"
# No control characters, and no half of a surrogate pair: such text can be neither shown nor saved as UTF-8.
TEXT_PATTERN = "^[^\\u0000-\\u001f\\u007f\\ud800-\\udfff]*$"
# Products of two stored numbers must stay far from overflow, whatever is multiplied with whatever.
LARGEST_NUMBER = 1e12
# A page of one body with hundreds of arrows is past reading; the limit keeps every answer prompt.
MOST_ENTITIES = 400
MOST_CORNERS = 200
MOST_HOLES = 20
MOST_CHARACTERS = 1_000_000

NAME_LIMIT = 60
SYMBOL_LIMIT = 12


@dataclass(frozen=True, slots=True)
class Field:
    """One key of an object: what may stand there, and within which bounds."""

    key: str
    shape: Shape
    says: str
    choices: tuple[str, ...] = ()
    least: float | None = None
    most: float | None = None
    above: float | None = None
    longest: int = NAME_LIMIT
    filled: bool = False
    always: bool = False
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Entity:
    """One kind of object in a document: the class it becomes and its fields."""

    made: type[Any]
    says: str
    fields: tuple[Field, ...]

    def defaults(self) -> dict[str, Any]:
        """What a left-out key stands for; a key that is not here must be given."""
        found: dict[str, Any] = {}
        needed = {field.key for field in self.fields if field.needed}
        for field in dataclasses.fields(self.made):
            if field.name in needed:
                continue
            if field.default is not dataclasses.MISSING:
                found[field.name] = field.default
            elif field.default_factory is not dataclasses.MISSING:
                found[field.name] = field.default_factory()
        return found


def _id(says: str) -> Field:
    return Field("id", "id", says)


def _body(says: str = "Id of the body it is on.") -> Field:
    return Field("body", "reference", says)


def _symbol(key: str = "symbol", says: str = "The letter beside it.") -> Field:
    return Field(key, "text", says, longest=SYMBOL_LIMIT, filled=True)


def _place(says: str = "Where, in the body's frame, metres: on a bar (distance along, 0).") -> Field:
    return Field("place_m", "point", says)


_AGENT = Field("agent", "text", "What exerts it; left out when it is not named yet.")
_ROLE = Field("role", "choice", "Given, or to be found.", choices=get_args(model.Role))
_GUESS = Field("guess", "guess", "A hand-drawn trial, only for an unknown.")

GUESS = Entity(
    model.Guess,
    "A hand-drawn trial for an unknown.",
    (
        Field("size_n", "number", "Size in newtons.", least=0.0),
        Field("direction_deg", "number", "Direction, degrees counterclockwise from +x."),
        Field("couple_n_m", "number", "Couple in newton metres, counterclockwise positive."),
    ),
)

ROUND_HOLE = Entity(
    model.RoundHole,
    "A round hole in a plate or disc.",
    (
        Field("centre_m", "point", "Its centre, in the body's frame, metres."),
        Field("radius_m", "number", "Its radius, metres.", above=0.0),
    ),
)

PIECE = Entity(
    model.AddedPiece,
    "A uniform piece fixed to a body, with a mass of its own.",
    (
        Field("centre_m", "point", "Its centre, in the body's frame, metres."),
        Field("mass_kg", "number", "Its mass, kilograms, beside that of the body's own shape.", above=0.0),
        Field("radius_m", "number", "Radius of a disc, metres.", least=0.0),
        Field("width_m", "number", "Length of a bar, or one side of a rectangle, metres.", least=0.0),
        Field("height_m", "number", "The other side of a rectangle, metres.", least=0.0),
        Field("angle_deg", "number", "Turn of a bar or rectangle in the body's frame, degrees counterclockwise."),
    ),
)

# What stands in a list within a body, by the shape of the field.
INNER: dict[str, Entity] = {"round-holes": ROUND_HOLE, "pieces": PIECE}

BODY = Entity(
    model.Body,
    "One rigid body, with a frame of its own.",
    (
        _id("Its id, unique in the document."),
        Field("kind", "choice", "A straight bar, a polyline, a polygon or a disc.", choices=get_args(model.BodyKind)),
        Field("name", "text", "What it is called.", filled=True),
        Field("origin_m", "point", "Origin of its frame in the world, metres."),
        Field("angle_deg", "number", "Turn of its frame, degrees counterclockwise."),
        Field("length_m", "number", "Length of a bar, metres.", least=0.0),
        Field("radius_m", "number", "Radius of a disc, metres; its frame's origin is its centre.", least=0.0),
        Field("points_m", "points", "Corners of a bent bar or plate, in its frame."),
        Field("holes_m", "holes", "Holes of a plate: polygons in its frame."),
        Field("round_holes", "round-holes", "Round holes of a plate or disc."),
        Field("pieces", "pieces", "Pieces fixed to it, with masses of their own."),
        Field("thickness_m", "number", "Drawn thickness, metres; no part in statics.", least=0.0),
        Field("mass_kg", "number", "Mass, kilograms.", least=0.0),
        Field("weight_n", "number", "Weight in newtons, instead of a mass.", least=0.0),
        Field("weight_symbol_only", "switch", "The weight is known as a letter only."),
        _symbol("weight_symbol", "The letter of its weight."),
        Field("centre_m", "point", "Centre of mass set by hand, in its frame."),
    ),
)

NAMED_POINT = Entity(
    model.NamedPoint,
    "A point with a name, on a body or on the paper.",
    (
        _id("Its id."),
        Field("name", "text", "Its name, usually a letter.", longest=SYMBOL_LIMIT, filled=True),
        Field("place_m", "point", "Where: in the body's frame, or in the world without a body."),
        _body("Id of its body; left out for a point of the paper."),
    ),
)

SUPPORT = Entity(
    model.Support,
    "What holds a body at a place.",
    (
        _id("Its id."),
        Field("kind", "choice", "What it can stop.", choices=get_args(model.SupportKind)),
        _body(),
        _place(),
        _symbol(),
        _AGENT,
        Field("normal_deg", "number", "Direction in which a roller or contact pushes the body."),
        Field("two_way", "switch", "A roller that can pull as well."),
        Field("anchor_m", "point", "Far end of a rope or strut: in the world, or in the frame of the `other` body."),
        Field("drawn_deg", "number", "The assumed sense of its force; left out for the usual one."),
        _GUESS,
        _symbol("couple_symbol", "The letter of a fixed end's couple."),
        Field("couple_guess", "guess", "A trial for the couple of a fixed end."),
        Field("mu", "number", "Coefficient of static friction of a contact; left out for a smooth one.", least=0.0),
        _symbol("mu_symbol", "The letter of that coefficient."),
        _symbol("friction_symbol", "The letter of the friction force."),
        Field("friction_guess", "guess", "A trial for the friction force."),
        Field("face_m", "point", "The other end of a face that a contact touches along, in the body's frame."),
        Field("about_to", "choice", "The motion it is on the point of.", choices=get_args(model.AboutTo)),
        Field("other", "reference", "Id of another body that it joins to this one."),
        Field("over_m", "point", "A small fixed pulley that a rope runs over, in the world."),
    ),
)

FORCE = Entity(
    model.Force,
    "A force arrow on a body.",
    (
        _id("Its id."),
        _body(),
        _place(),
        _symbol(),
        Field("type", "choice", "What kind of force it is.", choices=get_args(model.ForceType)),
        _AGENT,
        _ROLE,
        Field("size_n", "number", "Size in newtons; left out for a letter only.", least=0.0),
        Field("direction_deg", "number", "Direction, degrees counterclockwise from +x."),
        Field("sought", "choice", "What is to be found of an unknown.", choices=("size", "size and direction")),
        Field("one_way", "switch", "An unknown that can only act as drawn."),
        Field("head_at_point", "switch", "Drawn as a push that ends at its point."),
        _GUESS,
    ),
)

COUPLE = Entity(
    model.Couple,
    "A couple on a body.",
    (
        _id("Its id."),
        _body(),
        _place("Where it is drawn, in the body's frame."),
        _symbol(),
        _AGENT,
        _ROLE,
        Field("couple_n_m", "number", "Size in newton metres; left out for a letter only.", least=0.0),
        Field("counterclockwise", "switch", "Its sense, or the assumed one of an unknown."),
        _GUESS,
    ),
)

THING = Entity(
    model.Thing,
    "Something standing at rest on the body.",
    (
        _id("Its id."),
        _body(),
        _place(),
        _symbol(),
        Field("name", "text", "What it is."),
        Field("mass_kg", "number", "Mass, kilograms; left out for a letter only.", least=0.0),
    ),
)

SPREAD = Entity(
    model.SpreadLoad,
    "A load spread along a straight piece of a body.",
    (
        _id("Its id."),
        _body(),
        Field("start_m", "point", "Where it begins, in the body's frame, metres: on a bar (distance along, 0)."),
        Field("end_m", "point", "Where it ends, on the same straight piece of the body."),
        _symbol(says="The letter of its resultant."),
        _symbol("spread_symbol", "The letter of the load on each metre."),
        Field("type", "choice", "What kind of force it is.", choices=get_args(model.ForceType)),
        _AGENT,
        Field("start_n_per_m", "number", "Newtons on each metre at its start; left out for a letter only."),
        Field("end_n_per_m", "number", "Newtons on each metre at its end; left out for a letter only."),
        Field("acts", "choice", "Square to its line, straight down, at an angle, or own weight.",
              choices=get_args(model.Acts)),
        Field("direction_deg", "number", "Direction at an angle, degrees counterclockwise from +x."),
    ),
)  # fmt: skip

LOADS: dict[str, Entity] = {"force": FORCE, "couple": COUPLE, "thing": THING, "spread": SPREAD}
# Which kind a load of the model is in a document.
LOAD_KINDS: dict[type[Any], str] = {entity.made: kind for kind, entity in LOADS.items()}

MEASURED = Entity(
    model.MeasuredPoint,
    "A point of a thing that a given measures.",
    (
        Field("of", "reference", 'Id of the body, support, load or named point, or "pivot".'),
        Field(
            "part",
            "text",
            "Which point of it: start, end, corner-2, middle, rim, hole-2, centre, anchor; left out for where it is.",
        ),
        Field("place_m", "point", "Instead of a part, a place in a body's own frame."),
    ),
)

_LETTER = Field("letter", "text", "A letter for its value.", longest=SYMBOL_LIMIT)
_NUMBER = Field("number", "switch", "Whether its value is shown.")
_IN_EXTENDED = Field("in_extended", "switch", "Shown beside the forces too, not only in the set-up.")
_LINE = (
    Field("line", "reference", "Id of the body, rope, strut, roller, contact or force it measures.", needed=True),
    Field("edge", "integer", "Which straight piece of a bent bar or plate, counted from 0.", least=0),
)

GIVENS: dict[str, Entity] = {
    "length": Entity(
        model.Given,
        "A dimension line between two points.",
        (
            _id("Its id."),
            Field("start", "measured", "From here.", needed=True),
            Field("end", "measured", "To here.", needed=True),
            Field("measured", "choice", "Straight, or along x or y.", choices=("straight", "across", "upright")),
            _LETTER,
            _NUMBER,
            Field("offset_m", "number", "How far its line stands off, to the left of the way from start to end."),
            _IN_EXTENDED,
        ),
    ),
    "angle": Entity(
        model.Given,
        "An arc between a line and the horizontal, the vertical or another line.",
        (
            _id("Its id."),
            *_LINE,
            Field("start", "measured", "Where its arc stands; left out for where the line begins."),
            Field("against", "choice", "What it is measured against.", choices=("horizontal", "vertical", "line")),
            Field("second_line", "reference", "Id of the thing whose line it is measured against."),
            Field("second_edge", "integer", "Which straight piece of it.", least=0),
            Field("other", "switch", "The obtuse angle instead of the acute one."),
            _LETTER,
            _NUMBER,
            Field("offset_m", "number", "Radius of the arc, metres.", least=0.0),
            _IN_EXTENDED,
        ),
    ),
    "slope": Entity(
        model.Given,
        "A right triangle that shows how steep a line is.",
        (
            _id("Its id."),
            *_LINE,
            Field("start", "measured", "Where it stands; left out for the middle of the line."),
            Field("offset_m", "number", "Its long side, metres; with a minus it stands below the line."),
            _IN_EXTENDED,
        ),
    ),
    "label": Entity(
        model.Given,
        "A letter or words at a point.",
        (
            _id("Its id."),
            Field("start", "measured", "The point it belongs to.", needed=True),
            Field("letter", "text", "A letter.", longest=SYMBOL_LIMIT),
            Field("text", "text", "Words."),
            Field("shift_m", "point", "How far it stands from its point; left out for where there is room."),
            _IN_EXTENDED,
        ),
    ),
}

PIVOT = Entity(
    model.Pivot,
    "Where torques are taken: a point of the paper.",
    (
        Field("place_m", "point", "Where, in the world, metres."),
        Field("tied_to", "reference", "Id of the support, named point or load it follows."),
    ),
)

SETTINGS = Entity(
    model.Settings,
    "How the sketch is read and shown.",
    (
        Field("g_m_s2", "number", "Acceleration of free fall, m/s².", above=0.0, most=1000.0, always=True),
        Field("counterclockwise_positive", "switch", "Which turning counts as positive."),
        Field("significant_figures", "integer", "Figures of computed values.", least=2, most=8),
        Field("decimal_comma", "switch", "A comma for a decimal point."),
        Field("units", "choice", "Display units; stored values are always SI.", choices=("si", "us")),
        Field("turning_word", "choice", "The word for a turning effect.", choices=("torque", "moment")),
        Field("pivot_word", "choice", "The word for the pivot.", choices=("pivot", "moment centre")),
        Field(
            "mass_centre_word",
            "choice",
            "The word for the centre of mass.",
            choices=("centre of mass", "centre of gravity"),
        ),
        Field(
            "counterclockwise_word",
            "choice",
            "The word for counterclockwise.",
            choices=("counterclockwise", "anticlockwise"),
        ),
        Field("seen_from", "choice", "From above there is no weight in the page.", choices=("side", "above")),
        Field(
            "unknowns_drawn",
            "choice",
            "How an unknown of unknown direction is drawn.",
            choices=("components", "ring"),
        ),
        Field("two_sided", "switch", "Sums as one side equal to the other, instead of equal to zero."),
        Field("torque_form", "choice", "How a torque is written.", choices=get_args(model.TorqueForm)),
        Field("arm_letter", "choice", "The letter of a moment arm.", choices=("d", "r⊥", "ℓ")),
        Field("axes_deg", "number", "How far the axes are turned counterclockwise, degrees."),
        Field("axes_along", "reference", "Id of the body whose first edge the x axis follows; left out for level."),
        Field("snap", "switch", "Snapping."),
        Field("all_constructions", "switch", "Lines of action, arms and senses of all forces at once."),
    ),
)

HALF_WIDTH = Entity(
    model.HalfWidth,
    "How far a measured number may be off, either way.",
    (
        Field("path", "text", "The number: id of its thing and field, as walker.mass_kg.", longest=80, filled=True),
        Field("half_width", "number", "In the number's own unit.", above=0.0),
    ),
)

SKETCH_TEXTS = (
    Field("title", "text", "Title.", longest=200, always=True),
    Field("question", "text", "The question asked of it.", longest=500),
    Field("caution", "text", "A caution that stands with it.", longest=1000),
    Field("answers", "choice", "Answers kept back or shown.", choices=get_args(model.Answers)),
)
PINNED = Field("pinned", "ids", "Ids of forces whose constructions stay on the board.")
ORDER = Field("order", "ids", "Ids of forces in the order they are laid head to tail; others follow.")
TOLD = Field("told", "ids", "Ids of unknown forces whose answers are shown while the others are kept back.")

ISOLATED = Field("isolated", "ids", "Ids of the bodies taken as one system, and of things on them that belong to it.")

# The keys of a document in the order they are written; `format` and `version` come before them.
SKETCH_KEYS = (
    "title",
    "question",
    "caution",
    "answers",
    "settings",
    "bodies",
    "points",
    "supports",
    "loads",
    "givens",
    "half_widths",
    "pivot",
    "second_pivot",
    "pinned",
    "order",
    "told",
    "isolated",
)
FORMAT = "steelyard-sketch"

# Forces that come with an entity carry its id and one of these, so no id may end so.
# A partner of the third law on another body has the same id and "-back" after it.
ACTING_SUFFIXES = ("-weight", "-couple", "-friction", "-back")
# Words that commands use for what has no id of its own.
RESERVED_IDS = ("sketch", "pivot", "second-pivot", "settings")
