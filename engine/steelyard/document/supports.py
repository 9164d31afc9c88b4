"""Is a support sound: only what its kind can have, a face on the body, another body that is there?"""

from __future__ import annotations

from collections.abc import Mapping

from ..errors import SteelyardError
from ..geometry import Point
from ..model import Body, Support
from .bodies import check_piece, check_place, meets

# What a kind of support can be about to do.
_ABOUT_TO: dict[str, tuple[str, ...]] = {
    "contact": ("slip", "slip-back", "tip", "tip-back", "lift"),
    "roller": ("lift",),
    "rope": ("slack",),
}


def refuse(where: str, problem: str, hint: str) -> None:
    """Raise `SteelyardError` `document.inconsistent` for this path."""
    raise SteelyardError("document.inconsistent", where, f"`{where}` {problem}", hint)


def check_support(support: Support, where: str) -> None:
    """Raise `SteelyardError` for a field that its kind does not have, or lacks one it needs."""
    kind = support.kind
    if kind in ("rope", "strut"):
        if support.anchor_m is None:
            message = f"`{where}.anchor_m` is missing: a {kind} needs its far end."
            raise SteelyardError("document.missing", f"{where}.anchor_m", message, "Add `anchor_m`: [x, y], metres.")
    elif support.anchor_m is not None:
        refuse(f"{where}.anchor_m", f"is only for a rope or strut: this is a {kind}.", "Leave it out.")
    if support.two_way and kind != "roller":
        refuse(f"{where}.two_way", f"is only for a roller: this is a {kind}.", "Leave it out.")
    if support.drawn_deg is not None:
        one_way = (kind == "contact" and support.mu is None) or (kind == "roller" and not support.two_way)
        if kind == "rope" or one_way:
            refuse(f"{where}.drawn_deg", "is only for a force whose sense can be either.", "Leave it out.")
        if kind in ("strut", "roller", "contact") and support.drawn_deg not in (0.0, 180.0):
            refuse(f"{where}.drawn_deg", f"must be 0 or 180 for a {kind}: got {support.drawn_deg:g}.", "Write 0.")
    if support.couple_guess is not None and kind != "fixed":
        refuse(f"{where}.couple_guess", f"is only for a fixed end: this is a {kind}.", "Leave it out.")


def check_contact(support: Support, bodies: Mapping[str, Body], where: str) -> None:
    """Raise `SteelyardError` for friction, a face or an impending motion that this support cannot have."""
    kind = support.kind
    if kind != "contact":
        for key in ("mu", "face_m", "friction_guess"):
            if getattr(support, key) is not None:
                refuse(f"{where}.{key}", f"is only for a contact: this is a {kind}.", "Leave it out.")
    if support.friction_guess is not None and support.mu is None:
        refuse(f"{where}.friction_guess", "is only for a rough contact: this one is smooth.", "Give `mu`.")
    if support.face_m is not None:
        body = bodies[support.body]
        check_place(body, support.face_m, f"{where}.face_m")
        check_piece(body, support.place_m, support.face_m, f"{where}.face_m")
    about = support.about_to
    if not about:
        return
    if about not in _ABOUT_TO.get(kind, ()) or (kind == "roller" and support.two_way):
        can = " or ".join(f'"{each}"' for each in _ABOUT_TO.get(kind, ())) or "nothing"
        refuse(f"{where}.about_to", f'must be what a {kind} can be about to do, {can}: got "{about}".', "Leave it out.")
    if about.startswith("slip") and support.mu is None:
        refuse(f"{where}.about_to", "needs a coefficient of friction to slip against.", "Give `mu`.")
    if about.startswith("tip") and support.face_m is None:
        refuse(f"{where}.about_to", "needs a face to tip over.", "Give `face_m`, or leave it out.")


def check_joint(support: Support, bodies: Mapping[str, Body], where: str) -> None:
    """Raise `SteelyardError` for another body that is not there, or a pulley without a rope."""
    if support.over_m is not None:
        if support.kind != "rope":
            refuse(f"{where}.over_m", f"is only for a rope: this is a {support.kind}.", "Leave it out.")
        if support.other is None:
            refuse(f"{where}.over_m", "needs a body at the far end of the rope.", "Give `other`, or leave it out.")
    if support.other is None:
        return
    if support.other not in bodies:
        known = ", ".join(f'"{name}"' for name in bodies)
        message = f'`{where}.other` must be the id of a body: got "{support.other}".'
        raise SteelyardError("document.dangling", f"{where}.other", message, f"The bodies are {known}.")
    if support.other == support.body:
        refuse(f"{where}.other", "must be another body than the one it is on.", "Leave it out.")
    if support.kind in ("rope", "strut"):
        place: Point = support.anchor_m or (0.0, 0.0)
        check_place(bodies[support.other], place, f"{where}.anchor_m")
        return
    body, other = bodies[support.body], bodies[support.other]
    thick = (body.thickness_m + other.thickness_m) / 2.0 if support.kind in ("contact", "roller") else 0.0
    if not meets(body, support.place_m, other, thick):
        problem = f"must be a body that reaches to `{where}.place_m`: {other.name or other.id} does not."
        raise SteelyardError("document.apart", f"{where}.other", f"`{where}.other` {problem}", "Move one of the two.")
