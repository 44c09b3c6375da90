"""The heel and the nose: closed forms against turning the leaf's plan, and the trade's figures."""

from __future__ import annotations

import math
import random
from typing import Any

import numpy as np
import pytest
from shapely import affinity
from shapely.geometry import Polygon, box

from leafwright import chain
from leafwright.doorway.heel import (
    Heel,
    heel_gap_needed,
    heel_gap_parts,
    heel_of,
    leaf_words,
    nose_growth,
    open_leaf_takes,
)
from leafwright.job.model import LeafTable
from leafwright.job.steel import Steel, _catalogue
from leafwright.records import Verdict
from tests.doorway.doorways import check, fitted, gap, leaf, pair, placed, random_infill, square
from tests.sizes import cases

INCH = 0.0254
STEEL = Steel(_catalogue(), ())
STEPS = 180
TURNS = {"toward": [1.0], "away": [-1.0], "both": [1.0, -1.0]}


def length(value: float) -> chain.Quantity:
    return chain.base("wish", f"{value}", "a length", value, note="made for a test")


def heel(**wishes: Any) -> Heel:
    return heel_of(STEEL, LeafTable.model_validate(leaf(**wishes)), "leaf")


def plan(of: Heel, width: float) -> Polygon:
    """Return a left leaf's plan about its axis: x into the opening, y toward the viewer [m]."""
    a = of.axis.value
    return box(-a, -of.half_back.value, width - a, of.half_face.value)


def heel_gap(of: Heel, running: chain.Quantity | None = None) -> float:
    """Return the heel gap that a leaf on pins without play needs [m]."""
    return heel_gap_needed(of, heel_gap_parts(of, running or length(0.0), length(0.0))).value


def swept(of: Heel, width: float, upto: float) -> list[tuple[float, float]]:
    """Return the least and greatest x of the leaf's plan, turned step by step to an angle [m].

    Turning toward the viewer takes x to y, as angles are counted.
    """
    found = []
    for way in TURNS[of.table.swing]:
        for angle in np.linspace(0.0, upto * way, STEPS + 1):
            turned = affinity.rotate(plan(of, width), angle, origin=(0, 0))
            found.append((turned.bounds[0], turned.bounds[2]))
    return found


def test_trade_figures_of_the_heel_gap() -> None:
    # The trade's own sum, worked out again: a 2 in frame with its axis at 1 in needs 0.414 in
    # before running clearance, and with 1/4 in of cover on both faces 0.601 in.
    bare = heel(mount={"kind": "floor pivot", "axis": "1 in"})
    assert heel_gap(bare) / INCH == pytest.approx(0.414, abs=0.0005)
    cover = [{"kind": "sheet", "on": "both", "thickness": "1/4 in"}]
    covered = heel(mount={"kind": "floor pivot", "axis": "1 in"}, infill=cover)
    assert heel_gap(covered) / INCH == pytest.approx(0.601, abs=0.0005)
    running = length(3 / 16 * INCH)
    assert heel_gap(covered, running) == pytest.approx(heel_gap(covered) + 3 / 16 * INCH)


def test_the_heel_gap_is_what_the_turning_leaf_sweeps() -> None:
    rng = random.Random(51)
    for _ in range(cases(25, 500)):
        swing = rng.choice(["toward", "away", "both"])
        axis = rng.uniform(0.0, 60.0)
        of = heel(
            swing=swing,
            mount={"kind": "floor pivot", "axis": f"{axis:.3f} mm"},
            infill=random_infill(rng),
        )
        needed = heel_gap(of)
        # The jamb stands at −(axis + gap); the corner's farthest is met within half a step.
        farthest = -min(low for low, _ in swept(of, 1.0, 90.0))
        reach = needed + of.axis.value
        half_step = math.radians(90.0) / STEPS / 2
        assert farthest <= reach + 1e-12
        assert farthest == pytest.approx(reach, abs=reach * half_step**2)


def test_the_nose_grows_by_what_the_turning_leaf_sweeps() -> None:
    rng = random.Random(52)
    for _ in range(cases(25, 500)):
        swing = rng.choice(["toward", "away", "both"])
        of = heel(swing=swing, infill=random_infill(rng))
        width = rng.uniform(0.6, 3.5)
        grown = nose_growth(of, length(width)).value
        reach = width - of.axis.value
        farthest = max(high for _, high in swept(of, width, 10.0))
        # The peak, at 5° at most, is met within half a step; the reach curves as its own length.
        half_step = math.radians(10.0) / STEPS / 2
        assert farthest <= reach + grown + 1e-12
        assert farthest == pytest.approx(reach + grown, abs=(reach + grown) * half_step**2)


def test_the_trade_calls_the_growth_of_the_nose_negligible() -> None:
    # Trade figure: under 0.02 in for the 44 in leaf of 2 in tube.
    assert 0.0 < nose_growth(heel(), length(44 * INCH)).value < 0.02 * INCH


@pytest.mark.parametrize("swing", ["toward", "away"])
def test_only_the_side_that_comes_round_counts(swing: str) -> None:
    on_face = [{"kind": "boards", "on": "face", "thickness": "20 mm"}]
    on_back = [{"kind": "boards", "on": "back", "thickness": "20 mm"}]
    bare = heel_gap(heel(swing=swing))
    face = heel_gap(heel(swing=swing, infill=on_face))
    back = heel_gap(heel(swing=swing, infill=on_back))
    assert (face > bare) == (swing == "toward")
    assert (back > bare) == (swing == "away")
    both = heel_gap(heel(swing="both", infill=on_face))
    assert both == pytest.approx(max(face, back))


def test_the_thickest_infill_of_a_side_counts_and_a_mesh_is_two_wires_thick() -> None:
    of = heel(
        infill=[
            {"kind": "sheet", "on": "back", "panel": 1, "thickness": "3 mm"},
            {"kind": "mesh", "on": "back", "panel": 2, "wire": "4 mm", "opening": "40 mm"},
            {"kind": "sheet", "on": "both", "thickness": "2 mm"},
        ]
    )
    assert of.half_back.value == pytest.approx(INCH + 0.008)
    assert of.half_face.value == pytest.approx(INCH + 0.002)


def test_the_axis_is_in_the_middle_of_the_stile_unless_wished() -> None:
    assert heel().axis.value == pytest.approx(INCH)
    assert heel(mount={"kind": "floor pivot", "axis": "30 mm"}).axis.value == pytest.approx(0.030)
    barrel = {"kind": "barrel hinge", "standoff": "50 mm", "heights": ["200 mm", "1 m"]}
    assert heel(mount=barrel).axis.value == pytest.approx(-0.025)


def test_the_clear_opening_is_what_leaves_open_to_90_degrees_leave() -> None:
    rng = random.Random(53)
    for _ in range(cases(25, 500)):
        swings = [rng.choice(["toward", "away", "both"]) for _ in range(2)]
        infills = [random_infill(rng) for _ in range(2)]
        leaves = pair(
            {"swing": swings[0], "infill": infills[0]}, {"swing": swings[1], "infill": infills[1]}
        )
        if rng.random() < 0.3:
            leaves = leaves[:1]
        width = rng.uniform(2.0, 5.0)
        found = fitted(square(width, 3.0), leaves, heel_gap=f"{rng.uniform(20, 40):.2f} mm")
        left, right = 0.0, width
        for place in found.leaves:
            a = place.axis.value
            leaf_plan = box(
                -a, -place.half_back.value, place.width.value - a, place.half_face.value
            )
            for way in TURNS[place.swing]:
                opened = affinity.rotate(leaf_plan, 90.0 * way, origin=(0, 0))
                inner = place.heel_gap.value + a + opened.bounds[2]
                if place.hand == "left":
                    left = max(left, inner)
                else:
                    # The right leaf is the left one seen in a mirror, which turns it the same way.
                    right = min(right, width - inner)
        assert found.clear_opening.value == pytest.approx(right - left, abs=1e-9)


def test_what_an_open_leaf_takes() -> None:
    # Trade figure: about 2.5 in a leaf for a 2 in frame with its axis at 1 in.
    takes = open_leaf_takes(heel(), length(0.5 * INCH)).value
    assert takes == pytest.approx(2.5 * INCH)


@pytest.mark.parametrize("swing", ["toward", "away", "both"])
def test_both_noses_of_a_pair_may_turn_at_once(swing: str) -> None:
    boards = [{"kind": "boards", "on": "back", "thickness": "19 mm"}]
    wishes = {"swing": swing, "infill": boards}
    gaps = {"heel_gap": "30 mm", "meeting_gap": "20 mm"}
    found = fitted(square(2.6, 3.0), pair(wishes, wishes), **gaps)
    place = placed(found, "left")
    a, meeting = place.axis.value, gap(found, "doorway/meeting gap")
    leaf_plan = box(-a, -place.half_back.value, place.width.value - a, place.half_face.value)
    nearest = math.inf
    for way in TURNS[swing]:
        for angle in np.linspace(0.0, 6.0 * way, 1201):
            turned = affinity.rotate(leaf_plan, angle, origin=(0, 0))
            nearest = min(nearest, 2 * (place.width.value - a + meeting / 2 - turned.bounds[2]))
    one = check(found, "doorway/nose gap")
    growth = (meeting - nearest) / 2
    assert nearest > 0.0
    # Turning alone a nose keeps the running clearance, 5 mm by default.
    assert one.demand == pytest.approx(0.005 + growth, abs=1e-7)
    close = fitted(square(2.6, 3.0), pair(wishes, wishes), running_clearance="0.1 mm", **gaps)
    assert check(close, "doorway/nose gap").demand == pytest.approx(2 * growth, abs=1e-7)


@pytest.mark.parametrize(("standoff", "verdict"), [("62 mm", "short"), ("63 mm", "ok")])
def test_a_leaf_on_barrel_hinges_must_clear_its_post_when_open(standoff: str, verdict: str) -> None:
    # Half a 2 in frame and 6 mm of running clearance are 31.4 mm from post to axis.
    mount = {"kind": "barrel hinge", "standoff": standoff, "heights": ["200 mm", "1 m"]}
    found = fitted(square(2.0, 2.0), [leaf(mount=mount)], running_clearance="6 mm")
    one = check(found, "leaf/post clearance")
    assert one.verdict is Verdict(verdict)
    place = placed(found, "leaf")
    a = place.axis.value
    turned = affinity.rotate(
        box(-a, -place.half_back.value, 1.0, place.half_face.value), 90.0, origin=(0, 0)
    )
    off_post = place.heel_gap.value + a + turned.bounds[0]
    assert (off_post >= 0.006) == (verdict == "ok")


def test_what_a_leaf_is_called() -> None:
    assert [leaf_words(key) for key in ("leaf", "left", "right")] == [
        "the leaf",
        "the left leaf",
        "the right leaf",
    ]


def test_screw_heads_on_the_infill_widen_the_sweep() -> None:
    flush = [{"kind": "boards", "on": "back", "thickness": "20 mm"}]
    proud = [{**flush[0], "screw_heads": "3 mm"}]
    one, other = (heel(swing="away", infill=laid) for laid in (flush, proud))
    assert other.half_back.value - one.half_back.value == pytest.approx(0.003)
    assert other.half_face.value == one.half_face.value
    assert heel_gap(other) > heel_gap(one)
