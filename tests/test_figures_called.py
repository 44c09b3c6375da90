"""Formulas shown as the program called them: the same working as typed, from values in SI."""

from __future__ import annotations

import dataclasses
import enum
import math
from collections.abc import Callable, Mapping
from typing import Any, Literal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leafwright.figures import (
    FigureError,
    PutIn,
    Result,
    Worked,
    figure_named,
    figure_of,
    shown,
    shown_each,
    worked,
    worked_text,
)
from leafwright.figures.arguments import alternatives, filled, is_number, typed_number
from leafwright.figures.find import Found, all_found
from leafwright.figures.subjects import ORDER
from leafwright.handbook import (
    anchor_group,
    aws,
    beams,
    catalogue,
    contact,
    grades,
    niosh,
    outlines,
    plates,
    sections,
    slings,
    thermal,
    weld_group,
    wind,
)
from leafwright.handbook.aci318 import bond, kinds, shear, strength, tension
from leafwright.handbook.aisc360 import (
    bending,
    bolt_holes,
    bolts,
    compression,
    connecting,
    hss_joints,
    safety,
    walls,
    welds,
)
from leafwright.records import Working
from leafwright.units import measure_of
from tests.sizes import cases
from tests.test_figure import by_hand

IN, LB, KIP = 0.0254, 4.4482216152605, 4448.2216152605
KSI, PSI, PSF = 6894757.293168361, 6894.757293168361, 47.88025898033584
SYSTEMS: tuple[Literal["feet-inch", "metric"], ...] = ("feet-inch", "metric")

WELDS = (((0.0, 0.0), (0.0, 0.1)), ((0.05, 0.0), (0.05, 0.1)))
ANCHORS = ((-0.1, -0.1), (0.1, -0.1), (0.1, 0.1), (-0.1, 0.1))
CORNERS = ((-0.15, -0.15), (0.15, -0.15), (0.15, 0.15), (-0.15, 0.15))


def called(function: Callable[..., Any], /, **given: Any) -> Working:
    """Return a call of a handbook function as a check records it."""
    with np.errstate(all="ignore"):
        value = function(**given)
    return Working(figure_of(function), tuple(given.items()), value)


def put(made: Worked) -> dict[str, PutIn]:
    return {p.key: p for p in made.put_in}


def numbers_of(value: Any) -> list[float]:
    """Return every number in what a function gave, in order."""
    if isinstance(value, (bool, np.bool_, str, enum.Enum)) or value is None:
        return []
    if isinstance(value, (int, float, np.number)):
        return [float(value)]
    if dataclasses.is_dataclass(value):
        fields = [f.name for f in dataclasses.fields(value) if f.init]
        return [n for name in fields for n in numbers_of(getattr(value, name))]
    if isinstance(value, Mapping):
        return [n for part in value.values() for n in numbers_of(part)]
    if isinstance(value, (list, tuple)):
        return [n for part in value for n in numbers_of(part)]
    return []


def typed_calls(found: Found) -> list[tuple[dict[str, str], dict[str, Any], Any]]:
    """Return a figure's calls with the forms on its card: as typed, in SI, and what came of it."""
    calls = []
    for which in (0, -1):
        arguments = found.figure.arguments
        typed = {a.key: a.forms[which] for a in arguments if not a.otherwise and a.forms}
        try:
            values = filled(found.slots, typed, lambda _, value: value)
            with np.errstate(all="ignore"):
                calls.append((typed, values, found.function(**values)))
        except (ValueError, ArithmeticError):
            # A rule may refuse the sizes that are on its card as examples.
            continue
    return calls


FOUND = tuple(all_found().values())
CALLS = [(found, *call) for found in FOUND for call in typed_calls(found)]


# ---------------------------------------------------------------- the same as typed


def test_nearly_every_formula_is_tried_here() -> None:
    tried = {found.figure.name for found, *_ in CALLS}
    assert len(tried) > 0.85 * len(FOUND)


@pytest.mark.parametrize("subject", ORDER[:-1])
def test_a_call_gives_what_typing_gives(subject: str) -> None:
    wrong = []
    for found, typed, values, value in CALLS:
        if found.figure.subject != subject or found.figure.not_from_shell:
            continue
        name = found.figure.name
        by_typing = worked(name, typed)
        choice = {
            slot.key: typed_number(slot.unit, typed[slot.key])[1]
            for slot in found.slots
            if is_number(slot.hint) and len(alternatives(slot.unit)) > 1
        }
        for system in SYSTEMS:
            by_call = shown(
                Working(figure_of(found.function), tuple(values.items()), value),
                system=system,
                units=choice,
            )
            same = (
                by_call.figure == by_typing.figure
                and by_call.results == by_typing.results
                and by_call.cautions == by_typing.cautions
                and [s.formula for s in by_call.steps] == [s.formula for s in by_typing.steps]
                and [s.value for s in by_call.steps]
                == pytest.approx([s.value for s in by_typing.steps], rel=1e-9, nan_ok=True)
            )
            if not same:
                wrong.append(f"{name} {system}")
            before = put(by_typing)
            for p in by_call.put_in:
                b = before.get(p.key, p)
                if isinstance(p.value, float) and isinstance(b.value, float):
                    told = (b.value, b.unit, b.customary, b.metric, b.meaning)
                    if (p.value, p.unit, p.customary, p.metric, p.meaning) != told:
                        wrong.append(f"{name}: {p.key} {p} is not {b}")
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize(
    ("working", "typed"),
    [
        (
            called(welds.weld_shear, F_EXX=70 * KSI, A_we=0.7071 * 0.25 * IN**2),
            {"F_EXX": "70 ksi", "A_we": "0.176775 in2"},
        ),
        (
            called(welds.minimum_fillet, thinner=0.25 * IN, metric=False),
            {"thinner": "1/4 in", "metric": "no"},
        ),
        (
            called(aws.minimum_fillet, thinner=0.25 * IN, thicker=0.5 * IN),
            {"thinner": "1/4 in", "thicker": "1/2 in"},
        ),
        (
            called(
                bolts.tensile_stress_with_shear,
                F_nt=90 * KSI,
                F_nv=54 * KSI,
                f_rv=20 * KSI,
                method=safety.Method.ASD,
            ),
            {"F_nt": "90 ksi", "F_nv": "54 ksi", "f_rv": "20 ksi", "method": "ASD"},
        ),
        (
            called(
                bolts.nominal_shear_stress, group=bolts.BoltGroup.GROUP_120, threads_in_plane=True
            ),
            {"group": bolts.BoltGroup.GROUP_120.value, "threads_in_plane": "yes"},
        ),
        (
            called(bolt_holes.minimum_edge_distance, d=0.5 * IN, hole=bolt_holes.Hole.STANDARD),
            {"d": "1/2 in", "hole": "standard"},
        ),
        (
            called(
                tension.tension_breakout_area,
                h_ef=4 * IN,
                edges=(6 * IN, 8 * IN, 20 * IN, 20 * IN),
                spacings_x=(5 * IN,),
                spacings_y=(4 * IN, 4 * IN),
            ),
            {
                "h_ef": "4 in",
                "edges": "6 in; 8 in; 20 in; 20 in",
                "spacings_x": "5 in",
                "spacings_y": "4 in; 4 in",
            },
        ),
        (
            called(
                shear.basic_shear_breakout, f_c=4000 * PSI, c_a1=4 * IN, d_a=0.5 * IN, l_e=4 * IN
            ),
            {"f_c": "4000 psi", "c_a1": "4 in", "d_a": "1/2 in", "l_e": "4 in"},
        ),
        (
            called(strength.anchor_interaction, N_ratio=0.5, V_ratio=0.4),
            {"N_ratio": "0.5", "V_ratio": "0.4"},
        ),
        (
            called(contact.sphere_in_seat, load=800 * LB, radius=0.5 * IN, seat_radius=0.52 * IN),
            {"load": "800 lb", "radius": "1/2 in", "seat_radius": "0.52 in"},
        ),
        (
            called(
                plates.simply_supported_plate,
                pressure=5 * PSF,
                long_side=48 * IN,
                short_side=24 * IN,
                thickness=IN / 16,
                elastic_modulus=29000 * KSI,
            ),
            {
                "pressure": "5 psf",
                "long_side": "4 ft",
                "short_side": "2 ft",
                "thickness": "1/16 in",
                "elastic_modulus": "29000 ksi",
            },
        ),
        (
            called(wind.velocity_pressure, speed=115 * 0.44704, K_z=0.85),
            {"speed": "115 mph", "K_z": "0.85"},
        ),
        (
            called(slings.two_leg_sling, load=800 * LB, angle=math.radians(45.0)),
            {"load": "800 lb", "angle": "45 deg"},
        ),
        (
            called(
                weld_group.line_forces,
                lines=WELDS,
                force=(0.0, -2000.0, 0.0),
                at=(0.2, 0.05, 0.0),
            ),
            {
                "lines": "0 mm, 0 mm to 0 mm, 100 mm; 50 mm, 0 mm to 50 mm, 100 mm",
                "force": "0 N; -2000 N; 0 N",
                "at": "200 mm; 50 mm; 0 mm",
            },
        ),
        (
            called(
                anchor_group.plate_forces,
                anchors=ANCHORS,
                corners=CORNERS,
                N=5000.0,
                M_x=3000.0,
                M_y=0.0,
            ),
            {
                "anchors": "-100 mm, -100 mm; 100 mm, -100 mm; 100 mm, 100 mm; -100 mm, 100 mm",
                "corners": "-150 mm, -150 mm; 150 mm, -150 mm; 150 mm, 150 mm; -150 mm, 150 mm",
                "N": "5 kN",
                "M_x": "3 kN m",
                "M_y": "0 kN m",
            },
        ),
        (
            called(
                anchor_group.prying_force,
                T=8000.0,
                B=30000.0,
                t=0.0127,
                t_c=0.02,
                stub=anchor_group.tee_stub(b=0.04, a=0.03, d_b=0.0127, d_hole=0.0143, p=0.08),
            ),
            {
                "T": "8 kN",
                "B": "30 kN",
                "t": "12.7 mm",
                "t_c": "20 mm",
                "stub.b_prime": "33.65 mm",
                "stub.a_prime": "36.35 mm",
                "stub.rho": str(33.65 / 36.35),
                "stub.delta": str(1 - 14.3 / 80),
                "stub.p": "80 mm",
            },
        ),
        (
            called(niosh.lift_limit, lift=niosh.Lift(10 * IN, 30 * IN, 10 * IN), system="US"),
            {
                "lift.horizontal": "10 in",
                "lift.vertical": "30 in",
                "lift.travel": "10 in",
                "system": "US",
            },
        ),
    ],
    ids=lambda part: part.figure if isinstance(part, Working) else "",
)
def test_values_in_si_give_what_typed_units_give(working: Working, typed: dict[str, str]) -> None:
    by_call, by_typing = shown(working), worked(working.figure, typed)
    # The results are the function's own value, taken apart.
    own = numbers_of(working.value)
    usable = sum(r.name.startswith("may be used") for r in by_call.results)
    told = by_call.results[: len(by_call.results) - usable]
    assert [r.value for r in told if isinstance(r.value, float)] == own
    assert [r.name for r in by_call.results] == [r.name for r in by_typing.results]
    for a, b in zip(by_call.results, by_typing.results, strict=True):
        if isinstance(a.value, float) and isinstance(b.value, float):
            # What is 0 but for the last bits of a sum is 0 here.
            assert a.value == pytest.approx(b.value, rel=1e-9, abs=1e-9), a.name
            if abs(a.value) > 1e-9:
                assert (a.customary, a.metric) == (b.customary, b.metric)
        else:
            assert (a.value, a.customary) == (b.value, b.customary)
    assert by_call.figure == by_typing.figure
    assert (by_call.figure.source, by_call.figure.limits) != ("", "")
    assert [s.formula for s in by_call.steps] == [s.formula for s in by_typing.steps]
    assert {p.typed for p in by_call.put_in} == {""}


def test_both_families_of_every_number_say_the_same() -> None:
    wrong = []
    for found, _, values, value in CALLS:
        made = shown(Working(figure_of(found.function), tuple(values.items()), value))
        told_of: tuple[PutIn | Result, ...] = (*made.put_in, *made.results)
        for told in told_of:
            measure = measure_of(told.unit)
            if measure is None or not isinstance(told.value, float) or "e" in told.customary:
                continue
            size = told.value * float(measure.one)
            for text in (told.customary, told.metric):
                try:
                    read = float(measure.read(text.replace("²", "2").replace("³", "3")).exact)
                except ValueError:
                    continue
                # Shown to four figures; a temperature's zero may lie close by.
                if read != pytest.approx(size, rel=6e-4, abs=1e-12):
                    wrong.append(f"{found.figure.name}: {text} is read as {read}, not {size}")
    assert not wrong, "\n".join(wrong[:20])


def test_a_line_of_weld_by_the_sixteenth() -> None:
    # AISC Manual, part 8, Eq. 8-2a: 1.392 kip an inch and sixteenth of leg (from memory).
    made = shown(called(welds.weld_shear, F_EXX=70 * KSI, A_we=IN * IN * math.sqrt(0.5) / 16.0))
    assert isinstance(made.results[0].value, float)
    assert 0.75 * made.results[0].value / KIP == pytest.approx(1.392, abs=0.0005)


# ---------------------------------------------------------------- the working


@pytest.mark.parametrize(
    "working",
    [
        called(welds.weld_shear, F_EXX=70 * KSI, A_we=1e-4, k_ds=1.5),
        called(
            compression.compression_rectangular_hss,
            F_y=46 * KSI,
            A_g=8e-4,
            L_c_over_r=80.0,
            b_over_t=14.2,
            h_over_t=14.2,
            t=0.003,
        ),
        called(
            plates.clamped_plate,
            pressure=240.0,
            long_side=1.2,
            short_side=0.6,
            thickness=0.0015,
            elastic_modulus=2e11,
        ),
        called(slings.two_leg_sling, load=3000.0, angle=1.0),
        called(connecting.net_area, width=0.1, t=0.01, number_of_holes=2.0, d_h=0.0143),
        called(beams.cantilever_tip_load, load=500.0, length=1.0, stiffness=2e5),
        called(thermal.thermal_growth, length=4.0, alpha=12e-6, difference=40.0),
        called(anchor_group.shear_forces, anchors=ANCHORS, V_x=900.0, V_y=-400.0, at=(0.3, 0.2)),
        # Two of its parts are 0 but for the last bits, in every set of units others.
        called(anchor_group.shear_forces, anchors=ANCHORS, V_x=0.0, V_y=-400.0, at=(0.07, 0.0)),
        called(
            walls.web_local_yielding,
            F_yw=46 * KSI,
            t_w=0.003,
            k=0.005,
            l_b=0.05,
            d=0.05,
            distance_to_end=math.inf,
        ),
    ],
    ids=lambda working: working.figure,
)
@pytest.mark.parametrize("system", SYSTEMS)
def test_each_line_can_be_done_again_on_paper_in_the_makers_units(
    working: Working, system: Literal["feet-inch", "metric"]
) -> None:
    made = shown(working, system=system)
    assert made.units.startswith("inches" if system == "feet-inch" else "millimetres")
    for step in made.steps:
        if (
            isinstance(step.value, bool)
            or "for each" in step.formula
            or step.formula[:6] == "number"
        ):
            continue
        result = float(step.result.split()[0])
        # Numbers are shown to four figures, and a difference of two loses some.
        assert by_hand(step.numbers) == pytest.approx(result, rel=0.01), step


def test_large_forces_and_stresses_are_worked_in_kips_and_small_ones_in_pounds() -> None:
    heavy = shown(called(welds.weld_shear, F_EXX=70 * KSI, A_we=1e-4))
    # A modulus says nothing: a plate under wind is worked in psi.
    light = shown(
        called(
            plates.clamped_plate,
            pressure=240.0,
            long_side=1.2,
            short_side=0.6,
            thickness=0.0015,
            elastic_modulus=2e11,
        )
    )
    assert (heavy.units, light.units) == ("inches, kips and ksi", "inches, pounds and psi")


def test_of_a_group_of_welds_only_the_end_that_governs_is_worked() -> None:
    load = {"lines": WELDS, "force": (0.0, -2000.0, 0.0), "at": (0.2, 0.05, 0.0)}
    all_ends = shown(called(weld_group.line_forces, **load))
    worst = shown(called(weld_group.greatest_line_force, **load))
    assert [s.name for s in all_ends.steps].count("f_y") == 4
    by_name = {s.name: s.value for s in worst.steps}
    assert [s.name for s in worst.steps].count("f_y") == 1
    result = {r.name: r.value for r in worst.results}
    for part in ("f_x", "f_y", "f_z"):
        assert by_name[part] == pytest.approx(result[part], rel=1e-12, abs=1e-9)


def test_a_rule_with_units_of_its_own_is_worked_in_si_whatever_is_asked() -> None:
    made = shown(called(wind.velocity_pressure, speed=51.0, K_z=0.85), system="feet-inch")
    assert made.units == "the handbook's own units: m, N, Pa, kg"
    assert made.steps[-1].value == made.results[0].value


def test_half_a_working_is_no_working() -> None:
    # Its pulls come out of a search, of which two lines tell nothing.
    forces = called(
        anchor_group.plate_forces, anchors=ANCHORS, corners=CORNERS, N=5000.0, M_x=3000.0, M_y=0.0
    )
    made = shown(forces)
    assert (made.units, made.steps) == ("", ())
    assert "Worked in" not in worked_text(made)
    assert {r.unit for r in made.results if r.name.startswith("tension")} == {"N"}


def test_a_working_that_does_not_come_to_what_was_recorded_is_left_out() -> None:
    true = called(welds.weld_shear, F_EXX=70 * KSI, A_we=1e-4)
    assert shown(true).steps
    other = shown(dataclasses.replace(true, value=1.01 * true.value))
    assert other.steps == ()
    assert other.results[0].value == 1.01 * true.value


def test_in_si_what_was_given_keeps_its_unit_and_ratios_have_none() -> None:
    made = shown(called(aws.arc_plug, d=0.0127, t=0.003))
    assert made.units.startswith("the handbook's own")
    assert made.steps[0].numbers == "0.7·0.0127 m − 1.5·0.003 m"
    ratio = shown(called(strength.anchor_interaction_by_power, N_ratio=0.5, V_ratio=0.4))
    assert ratio.units == "plain numbers" and ratio.steps


# ---------------------------------------------------------------- what was put in


def test_words_are_words_and_what_was_left_out_is_said() -> None:
    made = shown(
        called(
            safety.available,
            nominal=10 * KIP,
            limit_state=safety.LimitState.BLOCK_SHEAR,
            method=safety.Method.LRFD,
        ),
        units={"nominal": "N"},
    )
    values = {key: (p.value, p.customary) for key, p in put(made).items()}
    assert values["limit_state"] == ("block shear", "block shear")
    assert values["method"] == ("LRFD", "LRFD")
    # ANSI/AISC 360-22, J4.3: phi = 0.75.
    assert made.results[0].customary == "7500 lbf"
    text = worked_text(shown(called(aws.minimum_fillet, thinner=0.006, thicker=0.01, cyclic=True)))
    assert "cyclic = yes  " in text and "low_hydrogen = yes (left out)" in text
    assert "left out" not in text.split("low_hydrogen")[0]


def test_a_number_of_which_only_the_caller_knows_the_unit_is_told_in_si() -> None:
    bare = called(
        safety.available,
        nominal=1200.0,
        limit_state=safety.LimitState.BENDING,
        method=safety.Method.ASD,
    )
    assert put(shown(bare))["nominal"].metric == "1200 SI"
    known = shown(bare, units={"nominal": "N m"}, system="metric")
    assert put(known)["nominal"].metric == "1.2 kN·m"
    # ANSI/AISC 360-22, F1(a): Omega_b = 1.67.
    assert known.results[0].metric == "718.6 N·m"


def test_a_number_has_the_unit_of_the_earlier_result_that_it_is() -> None:
    method = safety.Method.ASD
    force = called(welds.weld_shear, F_EXX=70 * KSI, A_we=1e-4)
    moment = called(bending.bending_round_bar, F_y=36 * KSI, D=0.04)
    check = (
        force,
        moment,
        called(
            safety.available,
            nominal=moment.value,
            limit_state=safety.LimitState.BENDING,
            method=method,
        ),
        called(
            safety.available,
            nominal=force.value,
            limit_state=safety.LimitState.WELD_SHEAR,
            method=method,
        ),
    )
    _, bent, moment_held, force_held = shown_each(check, system="metric")
    assert (moment_held.results[0].unit, force_held.results[0].unit) == ("N m", "N")
    # What the nominal strength says of itself is what comes of the step after it.
    assert {r.name: r.value for r in bent.results}["may be used, ASD"] == pytest.approx(
        moment_held.results[0].value
    )
    assert moment_held.units == "millimetres, newtons and MPa"


def test_a_record_is_told_by_its_parts() -> None:
    stub = anchor_group.tee_stub(b=0.04, a=0.03, d_b=0.0127, d_hole=0.0143, p=0.08)
    made = shown(
        called(anchor_group.prying_force, T=8000.0, B=30000.0, t=0.0127, t_c=0.02, stub=stub)
    )
    parts = {k.removeprefix("stub."): p.value for k, p in put(made).items() if k[:5] == "stub."}
    assert parts == {f.name: getattr(stub, f.name) for f in dataclasses.fields(stub)}
    assert put(made)["stub.p"].metric == "80 mm" and put(made)["stub.delta"].meaning


def test_points_lines_and_lists_are_told_number_by_number() -> None:
    made = shown(
        called(
            weld_group.line_forces, lines=WELDS, force=(0.0, -10 * LB, 0.0), at=(8 * IN, 0.0, 0.0)
        )
    )
    told = put(made)
    assert told["at"].customary == "8 in; 0 in; 0 in"
    assert told["force"].customary == "0 lbf; -10 lbf; 0 lbf"
    assert told["lines"].metric.startswith("0 mm, 0 mm to 0 mm, 100 mm; 50 mm, 0 mm to")
    edges = shown(
        called(
            tension.tension_breakout_area,
            h_ef=0.1,
            edges=(math.inf, 0.15, math.inf, math.inf),
            spacings_x=np.array([0.1, 0.12]),
            spacings_y=(),
        )
    )
    assert put(edges)["edges"].metric == "without end; 150 mm; without end; without end"
    assert put(edges)["spacings_x"].metric == "100 mm; 120 mm"
    assert put(edges)["spacings_y"].metric == "none"
    assert edges.steps[-1].value == edges.results[0].value


def test_a_long_list_is_cut_and_says_how_much_is_missing() -> None:
    many = tuple((0.1 * n, 0.0) for n in range(40))
    made = shown(called(anchor_group.shear_forces, anchors=many, V_x=1.0, V_y=0.0, at=(0.0, 0.0)))
    assert put(made)["anchors"].metric.endswith("; and 16 more")


def test_sections_grades_and_outlines_are_named() -> None:
    section = catalogue.find(catalogue.load_catalogue(), "HSS 2 x 2 x 1/8")
    turned = shown(called(catalogue.turned, section=section))
    assert put(turned)["section"].metric == f"{section.designation}, {section.grade.name}"
    grade = shown(
        called(grades.strength_of, grade=section.grade, shape=section.shape, thickness=0.003)
    )
    assert put(grade)["grade"].metric == section.grade.name
    bar = shown(called(sections.plastic_modulus, outline=outlines.flat_bar(0.05, 0.01)))
    assert put(bar)["outline"].metric == "an outline 50 mm by 10 mm"
    # A rectangle: t b²/4.
    assert bar.results[0].value == pytest.approx(0.01 * 0.05**2 / 4.0)
    loaded = shown(called(catalogue.load_catalogue))
    assert [r.metric for r in loaded.results] == ["the steel catalogue"]


def test_what_is_open_or_unknown_is_said() -> None:
    made = shown(called(bond.basic_bond, tau=None, d_a=0.0127, h_ef=0.1))
    assert put(made)["tau"].metric == "left open"
    assert made.results[0].name == "why" and made.steps == ()
    outside = shown(called(hss_joints.chord_stress_factor, U=math.nan, beta=0.5))
    assert outside.results[0].value is None
    assert outside.cautions[0].startswith("No number: these values lie outside the limits")


# ---------------------------------------------------------------- NumPy


COLUMN: dict[str, Any] = {
    "F_y": 46 * KSI,
    "A_g": 8e-4,
    "L_c_over_r": 80.0,
    "b_over_t": 14.2,
    "h_over_t": 14.2,
    "t": 0.003,
}


@pytest.mark.parametrize("kind", [np.float64, np.array, lambda n: np.array([n])])
def test_one_number_is_a_number_however_it_is_held(kind: Callable[[float], Any]) -> None:
    plain = shown(called(compression.compression_rectangular_hss, **COLUMN))
    held = {key: kind(value) for key, value in COLUMN.items()}
    made = shown(called(compression.compression_rectangular_hss, **held))
    assert made == plain and made.steps


def test_many_at_once_are_told_by_their_range() -> None:
    areas = np.array([9e-4, 8e-4, 1e-3])
    working = called(compression.compression_rectangular_hss, **COLUMN | {"A_g": areas})
    made = shown(working)
    assert put(made)["A_g"].metric == "800 mm² to 1000 mm², 3 values"
    assert put(made)["F_y"].customary == "46 ksi"
    assert {r.name: r.value for r in made.results} == {
        "least": working.value.min(),
        "greatest": working.value.max(),
    }
    assert made.steps == ()
    asked = shown(
        called(walls.flange_bending_applies, loaded_length=np.array([0.01, 0.02, 0.03]), b_f=0.15)
    )
    assert asked.results[0].metric == "yes for 1 of 3"


def test_nothing_that_a_function_took_is_refused() -> None:
    """Every call above again, with its numbers as NumPy holds them, one and many."""
    rng = np.random.default_rng(8)
    kinds_of_number: tuple[Callable[[float], Any], ...] = (
        np.float64,
        np.array,
        lambda n: n * (1.0 + 0.1 * rng.random(3)),
        lambda n: np.full((2, 2), n),
    )
    tried = 0
    for found, _, values, _ in CALLS:
        for kind in kinds_of_number:
            given = {
                key: kind(value) if type(value) is float else value for key, value in values.items()
            }
            try:
                working = called(found.function, **given)
            except (ValueError, TypeError, ArithmeticError, AttributeError, LookupError):
                continue
            made = shown(working)
            assert made.results and worked_text(made), working.figure
            tried += 1
    assert tried > 3 * len(CALLS)


class Odd:
    """Something of which nothing is known."""


@settings(max_examples=cases(40, 1000), deadline=None)
@given(
    st.sampled_from(CALLS),
    st.sampled_from([None, Odd(), {}, [], (1.0, Odd()), "word", kinds.Edition.US, np.array([])]),
    st.booleans(),
)
def test_what_is_odd_is_told_by_its_name(call: Any, odd: Any, is_result: bool) -> None:
    found, _, values, value = call
    place = figure_of(found.function)
    if is_result:
        made = shown(Working(place, tuple(values.items()), odd))
    else:
        first = next(iter(values), "more")
        made = shown(Working(place, tuple((values | {first: odd}).items()), value))
    assert made.results and all(r.metric for r in made.results)
    assert all(p.metric for p in made.put_in)
    assert worked_text(made)


# ---------------------------------------------------------------- names


def test_every_function_has_a_name_of_its_own_that_is_known_again() -> None:
    places = [figure_of(found.function) for found in FOUND]
    assert len(set(places)) == len(FOUND)
    assert [figure_named(place) for place in places] == [found.figure for found in FOUND]


def test_two_of_one_name_are_told_apart() -> None:
    assert figure_of(welds.minimum_fillet) == "aisc360.welds.minimum_fillet"
    assert figure_of(aws.minimum_fillet) == "aws.minimum_fillet"
    one = shown(called(welds.minimum_fillet, thinner=0.25 * IN))
    other = shown(called(aws.minimum_fillet, thinner=0.25 * IN, thicker=0.5 * IN))
    assert one.figure.module == "aisc360.welds" and other.figure.module == "aws"


def test_what_is_no_formula_of_the_handbook_has_no_name() -> None:
    for function in (math.sqrt, shown, lambda: 0.0, weld_group._slopes):
        with pytest.raises(ValueError, match="no formula of the handbook"):
            figure_of(function)
    with pytest.raises(FigureError, match=r"no figure 'aisc360\.welds\.weld_sheer'"):
        shown(Working("aisc360.welds.weld_sheer", (), 1.0))
