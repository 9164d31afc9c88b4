"""Half a unit in the last figure of what was typed."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steelyard.statics.figures import half_unit


@pytest.mark.parametrize(
    ("value", "figures", "expected"),
    [
        (2146.1, 3, 0.05),
        (300.0, 3, 0.5),
        (300.0, 2, 5.0),
        (12345.0, 3, 0.5),
        (120000.0, 3, 500.0),
        (4.0, 3, 0.005),
        (0.05, 3, 0.00005),
        (0.0512, 3, 0.00005),
        (1e-7, 3, 0.5e-9),
        (2.5e20, 3, 0.5e18),
        (9.99, 3, 0.005),
        (-12.5, 3, 0.05),
        (0.0, 3, 0.0),
    ],
)
def test_half_unit_of_the_last_figure(value, figures, expected):
    assert half_unit(value, figures) == pytest.approx(expected, rel=1e-12)


def test_computed_number_carries_no_rounding():
    assert half_unit(1.0 / 3.0, 3) == 0.0


@settings(max_examples=300, deadline=None)
@given(st.decimals("0.001", "99999", places=3))
def test_typed_number_is_never_further_off_than_half_a_unit(typed):
    # Whatever was meant rounds to what was typed, so it lies within half a thousandth or less finely.
    assert half_unit(float(typed), 1) >= 0.0005 * (1 - 1e-12)
