"""Quantities: what people type is read in any unit, what is computed is written with figures and honest signs.

Unit factors are checked against NIST Special Publication 811, appendix B.8 (from memory of its table).
"""

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from steelyard.errors import SteelyardError
from steelyard.model import Settings
from steelyard.units import (
    factor_of,
    read_quantity,
    read_with_note,
    spoken_quantity,
    unit_of,
    write_exact,
    write_quantity,
)
from steelyard.working.figures import digits

SI = Settings()
US = Settings(units="us")
COMMA = Settings(decimal_comma=True)
NBSP, THIN, MINUS = "\u00a0", "\u2009", "\u2212"
KINDS = ("force", "length", "angle", "mass", "couple", "acceleration", "number")


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("6", "length", 6.0),
        ("5.2 m", "length", 5.2),
        ("5,2 m", "length", 5.2),
        ("520cm", "length", 5.2),
        ("5200 mm", "length", 5.2),
        ("0.0052 km", "length", 5.2),
        ("10 ft", "length", 3.048),
        ("12 in", "length", 0.3048),
        (".5", "length", 0.5),
        ("5.", "length", 5.0),
        ("1200 N", "force", 1200.0),
        ("1.2 kN", "force", 1200.0),
        ("1.2 MN", "force", 1.2e6),
        ("1 lbf", "force", 4.4482216152605),
        ("1 kip", "force", 4448.2216152605),
        ("1 200 N", "force", 1200.0),
        (f"12{THIN}345 N", "force", 12345.0),
        (f"{MINUS}12°", "angle", -12.0),
        ("–12", "angle", -12.0),
        ("30 deg", "angle", 30.0),
        ("0.5 rad", "angle", 28.6478897565412),
        ("80 kg", "mass", 80.0),
        ("500 g", "mass", 0.5),
        ("1.5 t", "mass", 1500.0),
        ("1 lb", "mass", 0.45359237),
        ("1 slug", "mass", 14.5939029372064),
        ("150 N m", "couple", 150.0),
        ("150 N·m", "couple", 150.0),
        ("1.5 kN m", "couple", 1500.0),
        ("1 lbf ft", "couple", 1.3558179483314),
        ("3 kN * 2 m", "couple", 6000.0),
        ("9.80665 m/s²", "acceleration", 9.80665),
        ("9.8 m/s^2", "acceleration", 9.8),
        ("32.2 ft/s2", "acceleration", 9.81456),
        ("1e3", "force", 1000.0),
        ("1.234,5 N", "force", 1234.5),
        ("1,234.5 N", "force", 1234.5),
        ("1,234,567", "force", 1234567.0),
        ("2 + 3 m", "length", 5.0),
        ("2 m + 30 cm", "length", 2.3),
        ("(1 + 2) × 3", "number", 9.0),
        ("6/2 m", "length", 3.0),
        ("180 − 12", "angle", 168.0),
        ("- - 3", "length", 3.0),
        ("57 cm", "length", 0.57),
    ],
)
def test_typed_quantity_is_read_in_stored_units(text, kind, value):
    assert read_quantity(text, kind, SI) == pytest.approx(value, rel=1e-13)


def test_digits_typed_are_kept_exactly():
    assert read_quantity("5.2", "length", SI) == 5.2
    assert read_quantity("9.80665", "acceleration", SI) == 9.80665


def test_bare_number_is_in_the_shown_unit():
    assert read_quantity("10", "length", US) == 3.048
    assert read_quantity("32.2", "acceleration", US) == pytest.approx(9.81456, rel=1e-12)


def test_mass_typed_for_a_force_becomes_its_weight_and_says_so():
    reading = read_with_note("80 kg", "force", Settings(g_m_s2=9.80665))
    assert reading.value == pytest.approx(784.532, rel=1e-12)
    assert reading.note == f"A mass of 80{NBSP}kg weighs 784.532{NBSP}N (g = 9.80665{NBSP}m/s²)."


def test_three_digits_after_one_comma_are_read_as_decimals_and_said():
    reading = read_with_note("1,200 N", "force", SI)
    assert reading.value == 1.2
    assert "decimal comma" in reading.note
    assert read_with_note("1,2 N", "force", SI).note == ""


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("", "force", "`load.size` must be a force: it is empty."),
        ("12O0", "force", 'must be a force: got "12O0": “O” is not a unit known here.'),
        ("5 m", "force", 'must be a force: got "5 m": its unit measures something else.'),
        ("5 kg", "couple", "its unit measures something else."),
        ("1/0", "length", "it divides by zero."),
        ("2 m + 3", "length", "give every term its unit."),
        ("1.2.3", "length", "has more than one decimal point."),
        ("12 34", "length", "it goes on where it should end."),
        ("(1", "length", "a bracket is not closed."),
        ("1 +", "length", "it stops in the middle."),
        ("m", "length", "there is a unit but no number."),
        ("1e999", "length", "it is too large."),
        ("1e13", "length", "it is too large."),
        ("(" * 60 + "1" + ")" * 60, "length", "must be a length"),
        ("(" * 30 + "1" + ")" * 30, "length", "nested too deeply"),
        ("__import__", "length", "has no meaning here"),
        ("2**3", "length", "stands where a number should"),
    ],
)
def test_unreadable_text_is_answered_with_what_was_got_and_what_to_do(text, kind, words):
    with pytest.raises(SteelyardError) as caught:
        read_quantity(text, kind, SI, where="load.size")
    assert words in caught.value.message
    assert caught.value.where == "load.size"
    assert "such as" in caught.value.hint


@given(st.text(alphabet="0123456789.,+-−*/()·× eEmNkgft°²slb'\u2009", max_size=30), st.sampled_from(KINDS))
def test_any_text_gives_a_finite_number_or_a_complaint(text, kind):
    try:
        value = read_quantity(text, kind, SI)
    except SteelyardError as problem:
        assert problem.code.startswith("quantity.")
    else:
        assert math.isfinite(value)


@pytest.mark.parametrize(
    ("value", "kind", "settings", "text"),
    [
        (2146.105, "force", SI, f"2150{NBSP}N"),
        (2146.105, "force", Settings(significant_figures=4), f"2146{NBSP}N"),
        (2146.105, "force", Settings(significant_figures=5), f"2146.1{NBSP}N"),
        (-1176.8, "force", SI, f"{MINUS}1180{NBSP}N"),
        (0.0, "force", SI, f"0{NBSP}N"),
        (3.0, "length", SI, f"3.00{NBSP}m"),
        (0.05, "length", SI, f"0.0500{NBSP}m"),
        (0.05, "length", COMMA, f"0,0500{NBSP}m"),
        (9.9996, "length", SI, f"10.0{NBSP}m"),
        (14.4723, "angle", SI, "14.5°"),
        (99999.0, "force", SI, f"100{THIN}000{NBSP}N"),
        (123456.0, "force", SI, f"123{NBSP}kN"),
        (2.5e8, "force", SI, f"250{NBSP}MN"),
        (12345.0, "couple", Settings(significant_figures=5), f"12{THIN}345{NBSP}N·m"),
        (250000.0, "couple", SI, f"250{NBSP}kN·m"),
        (4.4482216152605, "force", US, f"1.00{NBSP}lbf"),
        (1.2e-7, "length", SI, f"1.20×10⁻⁷{NBSP}m"),
        (math.inf, "force", SI, "–"),
        (math.nan, "force", SI, "–"),
    ],
)
def test_computed_value_is_written_to_the_figures(value, kind, settings, text):
    assert write_quantity(value, kind, settings) == text


def test_figures_may_be_asked_for():
    assert write_quantity(2146.105, "force", SI, figures=2, with_unit=False) == "2100"


@pytest.mark.parametrize(
    ("value", "kind", "settings", "text"),
    [
        (6.0, "length", SI, f"6{NBSP}m"),
        (5.2, "length", SI, f"5.2{NBSP}m"),
        (5.2, "length", COMMA, f"5,2{NBSP}m"),
        (150000.0, "force", SI, f"150{THIN}000{NBSP}N"),
        (3.048, "length", US, f"10{NBSP}ft"),
        (0.1 + 0.2, "length", SI, f"0.3{NBSP}m"),
        (-12.0, "angle", SI, f"{MINUS}12°"),
        (9.80665, "acceleration", SI, f"9.80665{NBSP}m/s²"),
    ],
)
def test_typed_value_is_written_as_typed(value, kind, settings, text):
    assert write_exact(value, kind, settings) == text


def test_screen_readers_hear_minus_and_whole_words():
    assert spoken_quantity(-12.0, "angle", SI, exact=True) == "minus 12 degrees"
    assert spoken_quantity(123456.0, "force", SI) == "123 kilonewtons"
    assert spoken_quantity(12345.0, "length", SI) == "12300 metres"


@given(
    st.sampled_from(KINDS),
    st.floats(-1e9, 1e9).filter(lambda x: x == 0 or abs(x) > 1e-6),
    st.sampled_from([SI, US, COMMA]),
)
def test_what_is_written_can_be_read_again(kind, value, settings):
    again = read_quantity(write_exact(value, kind, settings), kind, settings)
    assert again == pytest.approx(value, rel=1e-9, abs=1e-15)


@given(st.integers(1, 99999), st.integers(0, 4), st.sampled_from(["length", "force", "mass", "angle"]))
def test_typed_decimals_come_back_as_typed(digits, places, kind):
    typed = f"{digits / 10**places:.{places}f}"
    for settings in (SI, US):
        shown = write_exact(read_quantity(typed, kind, settings), kind, settings, with_unit=False)
        assert float(shown.replace(THIN, "")) == float(typed)


def test_units_stand_for_what_a_bare_number_means():
    assert [unit_of(kind, SI) for kind in KINDS] == ["N", "m", "°", "kg", "N·m", "m/s²", ""]
    assert factor_of("length", US) == 0.3048


@pytest.mark.parametrize(
    ("value", "figures"), [(44145.0, 4), (0.125, 2), (-2.5, 1), (9.995, 3), (1e-9, 3), (2e8 / 3, 5)]
)
def test_board_and_working_round_the_same_number_to_the_same_digits(value: float, figures: int) -> None:
    written = write_quantity(value, "number", Settings(significant_figures=figures))
    plain = written.replace(THIN, "").replace(MINUS, "-")
    mantissa, _, power = plain.partition("×10")
    raised = int(power.translate(str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789"))) if power else 0
    assert Decimal(mantissa).scaleb(raised) == Decimal(digits(value, figures))


def test_a_half_is_rounded_away_from_zero_as_by_hand() -> None:
    settings = Settings(significant_figures=4)
    assert write_quantity(44145.0, "force", settings, figures=4) == f"44{THIN}150{NBSP}N"
    assert write_quantity(-0.125, "length", settings, figures=2) == f"{MINUS}0.13{NBSP}m"
