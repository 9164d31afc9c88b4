"""Fields of what a support can do before it gives way: roughness, a face, and the motion it is on the point of."""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

from ..document.table import SYMBOL_LIMIT
from ..model import AboutTo, Sketch, Support
from . import facing, naming
from .change import fail
from .typed import Typed, no_such_field

CONTACT_KEYS = ("mu", "mu_symbol", "friction_symbol", "touches", "from", "to", "side", "about_to")
# What each kind of support can be about to do; "" is at rest, with something to spare.
_ABOUT_TO: tuple[AboutTo, ...] = get_args(AboutTo)


def can_be_about_to(support: Support) -> tuple[AboutTo, ...]:
    """The motions this support can be on the point of, "" first; empty where there is none."""
    if support.kind == "rope":
        return ("", "slack")
    if support.kind == "roller":
        return () if support.two_way else ("", "lift")
    if support.kind != "contact":
        return ()
    slip: tuple[AboutTo, ...] = () if support.mu is None else ("slip", "slip-back")
    tip: tuple[AboutTo, ...] = () if support.face_m is None else ("tip", "tip-back")
    return ("", *slip, *tip, "lift")


def set_contact(sketch: Sketch, support: Support, key: str, typed: Typed) -> Support:
    """The support with one of these fields changed; raises `SteelyardError`."""
    if key == "about_to":
        return _about_to(support, typed)
    if support.kind != "contact":
        no_such_field(typed.where, support.symbol)
    if key == "mu":
        return _rough(sketch, support, typed)
    if key in ("mu_symbol", "friction_symbol"):
        if support.mu is None:
            fail("smooth", typed.where, f"{support.symbol} is smooth: it has no friction.", "Type a μ first.")
        letter = typed.words(SYMBOL_LIMIT, filled=True)
        return replace(support, mu_symbol=letter) if key == "mu_symbol" else replace(support, friction_symbol=letter)
    if key == "touches":
        return facing.set_touching(sketch, support, typed)
    if support.face_m is None:
        message = f"{support.symbol} touches at a point."
        fail("point", typed.where, message, "Let it touch over a face first.")
    if key == "side":
        body = sketch.body(support.body)
        return support if typed.choice(("this", "other")) == "this" else facing.turned_over(support, body)
    return facing.set_end(sketch, support, key == "from", typed)


def _rough(sketch: Sketch, support: Support, typed: Typed) -> Support:
    """The contact with this coefficient of friction; smooth when the field was emptied."""
    mu = typed.maybe("number", least=0.0)
    if mu is None:
        about = "" if support.about_to.startswith("slip") else support.about_to
        return replace(support, mu=None, friction_guess=None, drawn_deg=None, about_to=about)
    if support.mu is not None:
        return replace(support, mu=mu)
    friction, coefficient = (naming.of_contact(sketch, letter, support.symbol) for letter in ("f", "μ"))
    return replace(support, mu=mu, friction_symbol=friction, mu_symbol=coefficient)


def _about_to(support: Support, typed: Typed) -> Support:
    wanted = typed.text.strip()
    can = can_be_about_to(support)
    found = next((each for each in _ABOUT_TO if each == wanted and each in can), None)
    if found is None:
        options = ", ".join(f'"{each}"' for each in can) or "nothing"
        message = f'`{typed.where}` must be what {support.symbol} can be about to do, {options}: got "{wanted[:20]}".'
        fail("about-to", typed.where, message, "Choose one of them.")
    return replace(support, about_to=found)
