"""Figures printed outside this project, each with its source, against the engine's answers (see `cases`)."""

import pytest
import table
from cases import CASES, computed, is_let_go, name_of, sketch_of, source_of
from steelyard.statics import analyse


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_printed_figure_is_what_the_engine_gives(case):
    for expected in case["expected"]:
        value = computed(case, expected)
        assert value is not None, name_of(case)
        # A tie, 267.5 printed as 268, is half a unit off by more than half a unit in binary.
        slack = expected["tolerance"] + 1e-12 * abs(expected["value"])
        assert value == pytest.approx(expected["value"], rel=0.0, abs=slack), (
            f"{expected['of']} {expected['quantity']} of {name_of(case)}"
        )


@pytest.mark.parametrize(
    "case",
    [case for case in CASES if case["loads"] and case["holds"] and "vary" not in case and not is_let_go(case)],
    ids=lambda case: case["id"],
)
def test_printed_case_is_in_balance(case):
    assert analyse(sketch_of(case)).balance.kind == "balanced", name_of(case)


def test_every_case_names_its_source():
    assert len({case["id"] for case in CASES}) == len(CASES) >= 90
    for case in CASES:
        assert case["source"] and case["seen"] in ("read", "memory", "identity")
        assert case["expected"]
        assert case.get("worked") or not case["id"].startswith("h")


def test_table_has_a_line_for_every_printed_figure(capsys):
    assert table.main([]) == 0
    printed = capsys.readouterr().out
    figures = sum(len(case["expected"]) for case in CASES)
    assert printed.splitlines()[-1].startswith(f"{len(CASES)} cases, {figures} figures")
    flowing = " ".join(printed.split())
    for case in CASES:
        assert source_of(case) in flowing
    assert table.main(["steel", "construction", "manual"]) == 0
    chosen = capsys.readouterr().out
    assert "Machinery" not in chosen and "diagram 7" in chosen


def test_table_says_when_a_figure_is_missed(capsys, monkeypatch):
    wrong = {**CASES[0], "expected": [{**CASES[0]["expected"][0], "value": 6.5}]}
    monkeypatch.setattr(table, "CASES", [wrong])
    assert table.main([]) == 1
    said = capsys.readouterr().out
    assert "MISSED" in said and "3.8e-02" in said
