"""What the working says of friction and faces, word for word, and that it gives nothing away before it is found."""

from dataclasses import replace

import pytest
import sympy
from rough_bank import ROUGH
from steelyard import statics
from steelyard.statics.kept import kept_back
from steelyard.working.desk import Options
from steelyard.working.reading import read
from steelyard.working.steps import work
from trees import to_sympy


def said(name, kind, **options):
    """The remarks of the steps of one kind."""
    sketch = ROUGH[name]
    steps = work(sketch, statics.analyse(sketch), options=Options(**options)).steps
    return [each.text for step in steps if step.kind == kind for each in step.remarks]


def test_friction_at_rest_is_compared_with_what_is_there_and_its_sense_is_read_from_its_sign():
    """By hand: about the foot 1.5 m · 176.58 N + 2 m · 686.7 N = 5.196 m · F; f = F = 315 N, N = 863 N."""
    assert said("ladder that holds", "friction") == [
        "0.365 needed, μ = 0.4 there: no more than that, so friction holds.",
        "Friction acts to the right on the ladder.",
    ]
    assert said("ladder, friction drawn the other way", "friction")[1] == "Friction acts to the right on the ladder."
    assert said("ladder that slips", "friction") == [
        "0.365 needed, μ = 0.1 there: more than that, so it cannot hold: it slips."
    ]


@pytest.mark.parametrize("name", ROUGH)
def test_friction_is_never_put_as_mu_times_the_normal_unless_it_is_about_to_slip(name):
    sketch = ROUGH[name]
    slips = any(support.about_to.startswith("slip") for support in sketch.supports)
    steps = work(sketch, statics.analyse(sketch)).steps
    equations = [line.equation for step in steps for line in step.lines]
    with_mu = [each for each in equations if "μ" in repr(each.left) + repr(each.right)]
    assert slips or not with_mu


def test_a_normal_on_a_face_is_placed_and_judged_against_the_ends_of_the_face():
    """By hand: 0.5 m · 490.5 N + 1 m · 100 N = 490.5 N · a gives a = 0.704 m of the metre there is."""
    sums = said("crate on its face, two-sided, named ends", "sum")
    assert sums[-1] == "N acts 0.704\u00a0m from A, within the 1\u00a0m face: it stands."
    beyond = said("crate that tips", "sum")[-1]
    assert beyond.startswith("N would have to act beyond") and "it tips over" in beyond
    assert said("crate that tips", "answer") == ["No balance is possible: N cannot act beyond its face."]


def test_an_impending_slip_argues_the_sense_of_friction_from_the_motion():
    sketch = ROUGH["ladder about to slide, pulled"]
    steps = work(sketch, statics.analyse(sketch)).steps
    step = next(each for each in steps if each.title.text == "About to slide")
    assert step.why[0].text == (
        "The ladder is about to slide to the right, so friction (f) acts to the left, against that, and is as large as "
        "it can be."
    )


@pytest.mark.parametrize("name", ["ladder in letters", "sled on a slope, in letters"])
def test_least_coefficient_in_letters_is_what_sympy_makes_of_the_equations(name):
    sketch = ROUGH[name]
    steps = work(sketch, statics.analyse(sketch)).steps
    lines = [line for step in steps if step.kind == "sum" for line in step.lines]
    sums = [line.equation for line in lines if line.kind == "equation"]
    ratio = next(line.equation for step in steps if step.kind == "friction" for line in step.lines)
    solved = [
        line.equation.left for step in steps if step.kind == "sum" for line in step.lines if line.kind == "solved"
    ]
    unknown = [to_sympy(each) for each in solved]
    answers = sympy.solve([to_sympy(each.left) - to_sympy(each.right) for each in sums], unknown, dict=True)
    assert len(answers) == 1
    assert sympy.simplify(to_sympy(ratio.left).subs(answers[0]) - to_sympy(ratio.right)) == 0
    # What is left has neither an unknown nor the weight in it.
    assert not {str(each) for each in unknown} & {str(each) for each in to_sympy(ratio.right).free_symbols}


@pytest.mark.parametrize("name", ["crate on its face", "crate that tips", "sled on a slope"])
def test_where_a_normal_acts_is_not_shown_before_the_step_that_finds_it(name):
    sketch = replace(ROUGH[name], answers="kept")
    analysis = statics.analyse(sketch)
    truth = analysis.reading("face").force.point
    total = len(work(sketch, analysis).steps)
    shown = []
    for most in range(1, total + 1):
        found = read(sketch, analysis, Options(), "sums", most).finds
        places = {kept_back(analysis, found).reading(each).force.point for each in ("face", "face-friction")}
        shown.append((f"{'face'}.place" in found, truth in places))
    middle = tuple((one + two) / 2 for one, two in zip(*analysis.reading("face").force.face, strict=True))
    assert shown[-1] == (True, True)
    assert all(placed or not seen or truth == pytest.approx(middle) for placed, seen in shown)
