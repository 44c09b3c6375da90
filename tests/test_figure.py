"""Every formula of the handbook by itself: listed, explained, worked with what a maker types."""

from __future__ import annotations

import ast
import math
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import leafwright.handbook
from leafwright.figures import (
    Figure,
    FigureError,
    Worked,
    figure_named,
    figures,
    worked,
    worked_text,
)
from leafwright.figures.arguments import alternatives, is_number
from leafwright.figures.find import all_found
from leafwright.figures.results import results_of
from leafwright.figures.subjects import OTHER
from leafwright.handbook import slings
from leafwright.units import measure_of
from tests.sizes import cases

HANDBOOK = Path(leafwright.handbook.__file__).parent

#: Nobody types a table of data; each of these says so.
NOT_FROM_THE_SHELL = {"load_catalogue", "catalogue_from", "grade_from"}

TUBE = {"F_y": "46 ksi", "Z": "2.5 in3", "S": "2.1 in3", "b_over_t": "30", "h_over_t": "20"}
PLATE = {
    "pressure": "5 psf",
    "long_side": "4 ft",
    "short_side": "2 ft",
    "thickness": "1/16 in",
    "elastic_modulus": "29000 ksi",
}


def public_functions() -> set[str]:
    """Return the public functions of the handbook, read from its files and not by importing."""
    found = set()
    for file in HANDBOOK.rglob("*.py"):
        parts = file.relative_to(HANDBOOK).with_suffix("").parts
        if any(part.startswith("_") for part in parts):
            continue
        for node in ast.parse(file.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                found.add(".".join((*parts, node.name)))
    return found


def example_of(figure: Figure) -> Worked | None:
    """Return a figure worked with the forms on its card, or None where its rule refuses them."""
    typed = {a.key: a.forms[0] for a in figure.arguments if not a.otherwise and a.forms}
    try:
        return worked(figure.name, typed)
    except FigureError:
        return None


def problems(name: str, typed: dict[str, str]) -> str:
    with pytest.raises(FigureError) as error:
        worked(name, typed)
    assert "\n".join(error.value.problems) == str(error.value)
    return str(error.value)


def only(made: Worked) -> float:
    value = made.results[0].value
    assert isinstance(value, float)
    return value


# ---------------------------------------------------------------- the list


def test_every_public_function_is_listed() -> None:
    listed = {f"{f.figure.module}.{f.function.__name__}" for f in all_found().values()}
    assert listed == public_functions()


def test_every_figure_can_be_worked_or_says_why_not() -> None:
    held_back = {
        figure.name: figure.not_from_shell for figure in figures() if figure.not_from_shell
    }
    assert held_back.keys() == NOT_FROM_THE_SHELL
    assert held_back["grade_from"] == "entry is a Mapping[str, Any], which no shell can type"


def test_every_module_of_the_handbook_has_its_subject() -> None:
    lost = sorted({figure.module for figure in figures() if figure.subject == OTHER})
    assert not lost, f"give {lost} a subject in leafwright.figures.subjects"


def test_every_docstring_says_what_a_figure_needs() -> None:
    lacking: list[str] = []
    for found in all_found().values():
        figure = found.figure
        place = f"{figure.module}.{found.function.__name__}"
        if not figure.quantity:
            lacking.append(f"{place}: the first line names no quantity")
        if not figure.source:
            lacking.append(f"{place}: neither it nor its module names a document, or why none")
        choices = {a.key for a in figure.arguments if a.kind == "one of"}
        for slot in found.slots:
            if not slot.meaning and slot.key not in (*choices, "catalogue", "data"):
                lacking.append(f"{place}: {slot.key} has no entry 'name: meaning [unit]'")
            if is_number(slot.hint):
                lacking += [
                    f"{place}: {slot.key} has the unit [{unit}], for which units has no reader"
                    for unit in alternatives(slot.unit)
                    if measure_of(unit) is None
                ]
                if not slot.unit:
                    lacking.append(f"{place}: {slot.key} has no unit in square brackets")
    assert not lacking, "\n".join(lacking)


def test_every_number_that_comes_out_has_a_unit() -> None:
    lacking = []
    for found in all_found().values():
        figure = found.figure
        made = example_of(figure)
        for result in made.results if made is not None else ():
            if isinstance(result.value, float) and measure_of(result.unit) is None:
                lacking.append(f"{figure.module}.{figure.name}: {result.name} [{result.unit}]")
    assert not lacking, "\n".join(lacking)


def test_the_examples_on_every_card_are_read_as_they_stand() -> None:
    refused = []
    for figure in figures():
        # A word with no choices on its card (a name, a section) has no example there.
        free = {a.key for a in figure.arguments if not a.forms and not a.otherwise}
        typed = {a.key: a.forms[0] for a in figure.arguments if a.forms}
        typed |= dict.fromkeys(free, "x")
        crossed = ("is missing", "is not read", "is nothing that", "not one of its words", "Forms")
        try:
            worked(figure.name, typed)
        except FigureError as error:
            # What the rule itself refuses (a wall as thick as its tube) is the rule's to say.
            words = [p for p in error.problems if any(c in p for c in crossed)]
            refused += [f"{figure.name}: {problem}" for problem in words]
    assert [r for r in refused if not r.startswith(("find: ", *NOT_FROM_THE_SHELL))] == []


# ---------------------------------------------------------------- what comes out


def test_a_figure_gives_what_its_function_gives() -> None:
    made = worked("two_leg_sling", {"load": "3000 N", "angle": "60 deg"})
    leg = slings.two_leg_sling(3000.0, math.radians(60.0))
    assert [r.name for r in made.results] == ["tension", "inward"]
    assert [r.value for r in made.results] == pytest.approx([leg.tension, leg.inward], rel=1e-12)


def test_the_load_angle_factor_of_the_sling_table() -> None:
    # ASME B30.9, load angle factor at 45° from level: 1.414 (second-hand). Pull over half the load.
    made = worked("two_leg_sling", {"load": "2000 lb", "angle": "45 deg"})
    assert made.results[0].customary == "1414 lbf"


@pytest.mark.parametrize(
    ("name", "customary", "metric"),
    [
        ("bending_rectangular_hss", TUBE, TUBE | {"F_y": "317.1588270 MPa", "Z": "40.967660 cm3"}),
        (
            "simply_supported_plate",
            PLATE,
            PLATE | {"long_side": "1219.2 mm", "thickness": "1.5875 mm"},
        ),
        (
            "thermal_growth",
            {"length": "16' 2 3/4\"", "alpha": "6.5 ppm/F", "difference": "60 F"},
            {"length": "4946.65 mm", "alpha": "11.7 ppm/K", "difference": "33.33333333 K"},
        ),
        (
            "cantilever_tip_load",
            {"load": "120 lb", "length": "3 ft", "stiffness": "70000 kip in2"},
            {"load": "533.7866 N", "length": "0.9144 m", "stiffness": "200.887026 kN m2"},
        ),
    ],
)
def test_both_families_give_the_same(
    name: str, customary: dict[str, str], metric: dict[str, str]
) -> None:
    one, other = worked(name, customary), worked(name, metric)
    for a, b in zip(one.results, other.results, strict=True):
        if isinstance(a.value, float):
            # The metric sizes are typed to eight or more figures.
            assert a.value == pytest.approx(b.value, rel=2e-7), a.name
            assert (a.customary, a.metric) == (b.customary, b.metric)


@settings(max_examples=cases(25, 500), deadline=None)
@given(st.integers(1, 90_000), st.integers(5, 90), st.integers(1, 64))
def test_any_load_in_pounds_is_that_load_in_newtons(pounds: int, degrees: int, parts: int) -> None:
    newtons = f"{pounds * 4.4482216152605:.9f} N"
    angle = f"{degrees} {parts % 8}/8 deg" if parts % 8 else f"{degrees} deg"
    one = worked(
        "two_leg_sling", {"load": f"{pounds} lb", "angle": angle if degrees < 90 else "90 deg"}
    )
    other = worked("two_leg_sling", {"load": newtons, "angle": angle if degrees < 90 else "90 deg"})
    assert only(one) == pytest.approx(only(other), rel=1e-9)


def test_fractions_and_feet_are_typed_as_on_a_tape() -> None:
    made = worked("flat_width", {"outside": "2 1/2 in", "t": '3/16"'})
    assert made.results[0].customary == "1.938 in"
    assert [p.typed for p in made.put_in] == ["2 1/2 in", '3/16"']


def test_a_default_is_taken_and_said() -> None:
    made = worked("bending_rectangular_hss", TUBE)
    put = {p.key: p for p in made.put_in}
    assert (put["E"].typed, put["E"].customary) == ("", "29000 ksi")
    assert put["S_e"].customary == "left open"
    assert "E = 29000 ksi = 199948 MPa (left out)" in worked_text(made)


def test_a_nominal_strength_comes_with_what_may_be_used() -> None:
    made = worked("bending_rectangular_hss", TUBE)
    nominal, asd, lrfd = (r.value for r in made.results)
    assert isinstance(nominal, float)
    # ANSI/AISC 360-22, F1(a): Omega_b = 1.67, phi_b = 0.90.
    assert (asd, lrfd) == pytest.approx((nominal / 1.67, 0.9 * nominal))
    assert made.results[1].source == "ANSI/AISC 360-22, B3 and F1(a)"


def test_a_strength_with_more_than_one_factor_is_left_nominal() -> None:
    made = worked("slip_resistance", {"mu": "0.3", "T_b": "28 kip"})
    assert len(made.results) == 1


def test_outside_its_limits_there_is_no_number_and_it_says_so() -> None:
    typed = {"F_y": "46 ksi", "Z": "2 in3", "S": "1.5 in3", "D_over_t": "5000"}
    made = worked("bending_round_hss", typed)
    assert made.results[0].value is None
    assert made.cautions[0].startswith("No number: these values lie outside the limits")


def test_records_choices_and_yes_or_no_are_typed() -> None:
    made = worked(
        "lift_limit",
        {
            "lift.horizontal": "10 in",
            "lift.vertical": "30 in",
            "lift.travel": "10 in",
            "lift.coupling": "Good",
            "system": "us",
        },
    )
    # NIOSH 94-110, section 1.3: at the standard place the limit is the load constant, 51 lb.
    assert made.results[0].customary == "51 lb"
    assert {r.name: r.value for r in made.results}["multipliers.CM"] == 1.0
    spaced = worked("maximum_spacing", {"thinner": "1/4 in", "bare_weathering_steel": "yes"})
    assert spaced.results[0].customary == "3.5 in"


def test_a_section_is_typed_in_words_and_lines_by_their_ends() -> None:
    made = worked("plastic_modulus", {"outline": "flat 3 x 3/8 in"})
    # t b²/4 for a rectangle bent about its own strong axis.
    assert made.results[0].customary == "0.8438 in³"
    welds = worked(
        "line_properties", {"lines": "0 in, 0 in to 0 in, 4 in; 3 in, 0 in to 3 in, 4 in"}
    )
    assert welds.results[0].customary == "8 in"


# ---------------------------------------------------------------- the working


def by_hand(numbers: str) -> float:
    """Return what a line of the working comes to, its units struck out."""
    text = re.sub(r"(?<=[\d)]) ?(?:kip|lb|in|ksi|psi|mm|N|MPa|/K|K)(?![a-z(])[²³⁴]?", "@", numbers)
    text = re.sub(r"@(?:[·/](?:in|mm)(?![a-z(])[²³⁴]?)?", "", text)
    text = re.sub(r"([\d.]+)°", r"math.radians(\1)", text)
    for sign, plain in (("·", "*"), ("−", "-"), ("√", "math.sqrt"), ("π", "math.pi")):
        text = text.replace(sign, plain)
    text = re.sub("[²³⁴]", lambda m: f"**{'²³⁴'.index(m[0]) + 2}", text)
    text = re.sub(r"(?<![.\w])(sin|cos|tan)\(", r"math.\1(", text).replace("^", "**")
    return float(eval(text, {"math": math, "min": min, "max": max}))


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        ("bending_rectangular_hss", TUBE),
        ("simply_supported_plate", PLATE),
        ("two_leg_sling", {"load": "800 lb", "angle": "35 deg"}),
        ("thermal_growth", {"length": "4 m", "alpha": "12 ppm/K", "difference": "40 K"}),
        ("elastic_buckling_stress", {"L_c_over_r": "80"}),
        ("net_area", {"width": "4 in", "t": "3/8 in", "number_of_holes": "2", "d_h": "9/16 in"}),
        ("element_shear_yielding", {"F_y": "250 MPa", "A_gv": "1200 mm2"}),
    ],
)
def test_each_line_of_the_working_can_be_done_again_on_paper(
    name: str, typed: dict[str, str]
) -> None:
    made = worked(name, typed)
    assert made.steps and not made.units.startswith("the handbook's own")
    for step in made.steps:
        # Numbers are shown to four figures, and a difference of two loses some.
        if isinstance(step.value, bool):
            continue
        result = float(step.result.split()[0])
        assert by_hand(step.numbers) == pytest.approx(result, rel=0.01), step


def test_the_working_follows_the_branch_that_counts() -> None:
    stocky = worked("column_stress", {"F_y": "46 ksi", "F_e": "60 ksi"})
    slender = worked("column_stress", {"F_y": "46 ksi", "F_e": "20 ksi"})
    assert "0.658" in stocky.steps[1].formula
    assert [s.because for s in slender.steps][-1] == "ratio > 2.25"
    assert slender.steps[-1].result == slender.results[0].customary == "17.54 ksi"


def test_a_rule_written_in_inches_is_worked_in_the_handbooks_units() -> None:
    made = worked("filler_factor", {"t": "1/2 in"})
    assert made.units == "the handbook's own units: m, N, Pa, kg"
    # ANSI/AISC 360-22, J5.2(a): 1 - 0.4 (0.5 - 0.25) = 0.90.
    assert only(made) == pytest.approx(0.9)


def test_every_working_ends_in_the_result() -> None:
    wrong = []
    for found in all_found().values():
        made = example_of(found.figure)
        if made is None or not made.steps:
            continue
        by_name = {step.name: step.value for step in made.steps}
        by_name[""] = made.steps[-1].value
        for result in made.results:
            step = by_name.get(result.name)
            if isinstance(step, float) and isinstance(result.value, float):
                if step != pytest.approx(result.value, rel=1e-12):
                    wrong.append(f"{found.figure.name}: {result.name} {step} is {result.value}")
    assert not wrong, "\n".join(wrong)


# ---------------------------------------------------------------- refusals


def test_an_unknown_name_is_met_with_the_nearest() -> None:
    with pytest.raises(FigureError, match="The nearest are: two_leg_sling"):
        figure_named("two leg slng")
    assert figure_named("two-leg sling").name == "two_leg_sling"
    assert figure_named("aisc360.compression.column_stress").name == "column_stress"


def test_a_name_that_two_modules_have_asks_which() -> None:
    said = problems("minimum_fillet", {})
    assert "in several places" in said and "welds.minimum_fillet" in said
    assert figure_named("welds.minimum_fillet").module == "aisc360.welds"


def test_everything_wrong_is_told_at_once() -> None:
    said = problems("two_leg_sling", {"angel": "45 deg", "load": "800 kg"})
    assert "'angel' is nothing that two_leg_sling takes (the nearest known is angle)" in said
    assert "the unit 'kg' is refused: a kilogram is a mass; its weight is 1 kgf" in said
    assert 'angle is missing: θ of the legs from level [rad]. Add, as in: "angle=15 deg"' in said


def test_a_wrong_unit_is_met_with_what_would_do() -> None:
    said = problems("flat_width", {"outside": "2 psf", "t": "1/8 in"})
    assert "outside (outside width or depth" in said and "Forms that would do: " in said
    assert "a number without a unit" in problems("flat_width", {"outside": "2", "t": "1/8 in"})


def test_a_wrong_word_is_met_with_those_that_would_do() -> None:
    said = problems("available", {"nominal": "2 kip", "limit_state": "bend", "method": "ASD"})
    assert "'bend' is not one of its words" in said and "shear" in said
    said = problems("maximum_spacing", {"thinner": "1/4 in", "bare_weathering_steel": "perhaps"})
    assert "neither yes nor no" in said


def test_what_the_function_refuses_is_shown_plainly() -> None:
    said = problems("two_leg_sling", {"load": "800 lb", "angle": "0 deg"})
    assert said.startswith("a sling's leg at 0.0 rad from level lifts nothing")
    assert said.endswith("(Sizes in this message are SI: m, N, Pa, rad.)")


def test_a_size_of_nothing_is_no_traceback() -> None:
    said = problems("hung_leaf", {"width": "4 ft", "height": "0 in", "weight": "500 lb"})
    assert "hung_leaf cannot be worked with these values: it would divide by zero" in said


def test_what_cannot_be_typed_says_why() -> None:
    assert "which no shell can type" in problems("grade_from", {})


@settings(max_examples=cases(60, 2000), deadline=None)
@given(
    st.sampled_from(sorted(f.name for f in figures())),
    st.text(max_size=30) | st.text("0123456789./-' \"½inlbksfPaNmg;,", max_size=14),
    st.data(),
)
def test_any_text_is_worked_or_refused(name: str, text: str, data: st.DataObject) -> None:
    arguments = figure_named(name).arguments
    typed = {a.key: a.forms[0] for a in arguments if a.forms and not a.otherwise}
    if arguments:
        typed[data.draw(st.sampled_from([a.key for a in arguments]))] = text
    try:
        made = worked(name, typed)
    except FigureError as error:
        assert all(problem.strip() for problem in error.problems)
    else:
        assert made.results


# ---------------------------------------------------------------- for a page


def test_figures_are_what_a_page_can_show_without_working_them() -> None:
    figure = figure_named("thermal_growth")
    assert figure.subject == "heat"
    assert figure.source.startswith("Physics of linear expansion")
    assert [(a.key, a.unit, a.kind) for a in figure.arguments] == [
        ("length", "m", "length"),
        ("alpha", "1/K", "growth by heat"),
        ("difference", "K difference", "temperature difference"),
    ]
    assert figure.limits.startswith("Valid where the part is free to grow")


def test_results_of_nested_records_are_named_by_their_fields() -> None:
    leg = slings.SlingLeg(2.0, 1.0)
    assert [(r.name, r.unit) for r in results_of((leg, 3.0), "m")] == [
        ("1.tension", "N"),
        ("1.inward", "N"),
        ("2", "m"),
    ]
