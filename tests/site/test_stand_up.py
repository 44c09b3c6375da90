"""Standing up and hanging: trade figures, balance at every tilt, who is needed, which method."""

from __future__ import annotations

import dataclasses
import math
import random

import numpy as np
import pytest

from leafwright.handbook.niosh import Lift
from leafwright.records import Verdict
from leafwright.site.method import (
    BarrelPins,
    HangMethod,
    Pins,
    hang_between_pins,
    hang_on_barrels,
    unseating,
)
from leafwright.site.stand_up import (
    EDGE_LIFT,
    GRAVITY,
    Crew,
    Standing,
    people_for,
    push_at,
    stand_up,
    standing,
)
from tests.leaves import made
from tests.sizes import cases

INCH, LB = 0.0254, 0.45359237
POUND_FORCE = LB * GRAVITY

# The reference leaf: 194 lb, 174 in high, 2 in thick, even.
LEAF = Standing("left", 194 * LB, 174 * INCH, 87 * INCH, 1 * INCH, 2 * INCH)
THIN = dataclasses.replace(LEAF, over_face=0.0)
CREW = Crew(people=2, reach=72 * INCH, friction=0.5)


def test_walking_up_the_reference_leaf() -> None:
    """Computed trade figures: starts at W/2 = 97 lb, peaks at W·H/4r = 117 lb at 45°, 72 in."""
    found = stand_up(THIN, CREW)
    assert found.start / POUND_FORCE == pytest.approx(97.0, abs=0.05)
    assert found.peak / POUND_FORCE == pytest.approx(117.2, abs=0.1)
    assert math.degrees(found.peak_tilt) == pytest.approx(45.0)
    assert found.peak == pytest.approx(THIN.mass * GRAVITY * THIN.height / (4 * CREW.reach))
    assert float(found.push.force.max()) <= found.peak * (1 + 1e-9)


def test_near_47_degrees_the_foot_wants_three_quarters() -> None:
    # Computed trade figure.
    found = stand_up(THIN, CREW)
    assert found.friction == pytest.approx(0.75, abs=0.01)
    assert math.degrees(found.friction_tilt) == pytest.approx(47.0, abs=1.5)
    assert found.slides
    assert not stand_up(THIN, dataclasses.replace(CREW, friction=0.8)).slides


def test_reaching_higher_than_half_the_leaf_the_start_is_the_peak() -> None:
    found = stand_up(THIN, dataclasses.replace(CREW, reach=100 * INCH))
    assert found.peak == pytest.approx(found.start) and found.peak_tilt == 0.0


def random_leaf(rng: random.Random) -> tuple[Standing, float]:
    height, thickness = rng.uniform(1.5, 5.5), rng.uniform(0.03, 0.15)
    leaf = Standing(
        "leaf",
        rng.uniform(20, 300),
        height,
        height * rng.uniform(0.35, 0.65),
        thickness * rng.random(),
        thickness,
    )
    return leaf, rng.uniform(1.2, 2.2)


def test_push_does_the_work_and_the_leaf_is_in_balance() -> None:
    """Push times its way is weight times its rise; forces and moments add up to nothing."""
    for seed in range(cases(25, 500)):
        leaf, reach = random_leaf(random.Random(seed))
        weight = leaf.mass * GRAVITY
        tilt = np.linspace(0.0, math.pi / 2, 50)
        push = push_at(leaf, reach, tilt)
        rise, step = [], 1e-6
        for sign in (-1, 1):
            at = tilt + sign * step
            rise.append(leaf.centre * np.sin(at) + leaf.over_face * np.cos(at))
        work = weight * (rise[1] - rise[0]) / (2 * step)
        assert push.force * push.hands == pytest.approx(work, rel=1e-6, abs=1e-4)
        # Hands push up and toward the foot, the floor pushes the foot back.
        assert push.up + push.foot_up == pytest.approx(np.full(50, weight))
        assert push.level == pytest.approx(push.foot_level)
        hand_z, hand_y = push.hands * np.cos(tilt), push.hands * np.sin(tilt)
        centre_z = leaf.centre * np.cos(tilt) - leaf.over_face * np.sin(tilt)
        moment = push.up * hand_z + push.level * hand_y - weight * centre_z
        assert np.abs(moment).max() < 1e-6 * weight
        assert (hand_y <= reach + 1e-9).all()


def test_peak_is_the_greatest_of_many_tilts() -> None:
    for seed in range(cases(25, 500)):
        leaf, reach = random_leaf(random.Random(seed))
        found = stand_up(leaf, Crew(people=2, reach=reach, friction=0.5))
        fine = push_at(leaf, reach, np.linspace(0.0, math.pi / 2, 20001)).force.max()
        assert found.peak == pytest.approx(fine, rel=1e-6)


def test_past_the_balance_it_goes_by_itself_and_little_tips_it() -> None:
    found = stand_up(LEAF, CREW, keep_out=1.25)
    # tan φ = 87 / 1: from there the push is a pull.
    assert math.degrees(found.balance) == pytest.approx(89.34, abs=0.01)
    assert push_at(LEAF, CREW.reach, np.array([found.balance])).force[0] == pytest.approx(
        0, abs=1e-9
    )
    assert found.push.force[-1] < 0.0
    # 194 lb × 1 in / 72 in.
    assert found.tips_with / POUND_FORCE == pytest.approx(2.69, abs=0.01)
    assert math.degrees(found.tips_at) == pytest.approx(0.66, abs=0.01)
    assert found.keep_out == pytest.approx(1.25 * 174 * INCH, rel=1e-3)


def test_people_needed_by_the_lifting_equation() -> None:
    easy = Lift(10 * INCH, 30 * INCH, 10 * INCH, coupling="good")
    found = stand_up(LEAF, dataclasses.replace(CREW, lift=easy))
    # 51 lb each: 194 / 51 = 3.8, 97 / 51 = 1.9.
    assert (found.to_carry, found.to_lift_the_edge) == (4, 2)
    assert found.to_walk_up == math.ceil(found.peak / (51 * POUND_FORCE)) == 3
    carry, edge, walk, _ = found.checks
    assert carry.verdict is Verdict.SHORT and edge.verdict is Verdict.TIGHT
    assert carry.change == ("needs a hoist or lift: 4 people would have to share it, the crew is 2")
    assert "yardstick only" in walk.basis and walk.verdict is Verdict.SHORT
    assert found.cautions[0] == walk.change


def test_from_the_floor_an_edge_of_tube_is_a_poor_lift() -> None:
    # 51 lb × 10/15 × (1 − 0.0075 × 26) × (0.82 + 1.8/26) × 0.9.
    found = stand_up(LEAF, CREW)
    expected = 51 * 10 / 15 * (1 - 0.0075 * 26) * (0.82 + 1.8 / 26) * 0.9
    assert found.limit.weight / LB == pytest.approx(expected, rel=1e-6)
    assert EDGE_LIFT.coupling == "poor"


def test_what_a_crew_has_agreed_to_push_is_taken() -> None:
    found = stand_up(LEAF, dataclasses.replace(CREW, push=300.0))
    walk = found.checks[2]
    assert walk.available == 300.0 and walk.verdict is Verdict.OK
    assert found.to_walk_up == math.ceil(found.peak / 300.0)


def test_beyond_the_equation_no_number_of_people_will_do() -> None:
    far = dataclasses.replace(EDGE_LIFT, horizontal=0.7)
    found = stand_up(LEAF, dataclasses.replace(CREW, lift=far))
    assert found.to_carry is None
    assert found.checks[0].change.startswith("needs a hoist or lift: this cannot be lifted by hand")
    assert people_for(10.0, 0.0) is None


def test_the_foot_check_says_chock_it() -> None:
    foot = stand_up(LEAF, CREW).checks[3]
    assert foot.verdict is Verdict.SHORT
    assert foot.change == "chock the foot, so that it can slide neither way"
    assert (
        stand_up(LEAF, dataclasses.replace(CREW, friction=0.0)).checks[3].verdict is Verdict.SHORT
    )


def test_cautions_say_tie_chock_and_keep_out() -> None:
    said = " ".join(stand_up(LEAF, CREW).cautions)
    for word in ("Tie the top off", "Chock the foot", "own height", "stop"):
        assert word in said


def test_a_designed_leaf_lies_on_its_cladding() -> None:
    boards = [{"kind": "sheet", "on": "face", "thickness": "20 mm"}]
    _, _, leaf = made(1.1, 4.0, infill=boards)
    toward, away = standing(leaf, True), standing(leaf, False)
    assert toward.thickness == away.thickness == pytest.approx(2 * INCH + 0.020)
    # The same centre, measured from either face.
    assert toward.over_face + away.over_face == pytest.approx(toward.thickness)
    assert toward.over_face < away.over_face
    assert toward.mass == pytest.approx(leaf.hung_mass)
    with_pins = standing(leaf, True, mass=10.0, height=0.0)
    assert with_pins.centre < toward.centre and with_pins.mass == toward.mass + 10.0


def test_a_bare_designed_leaf_is_even() -> None:
    _, _, leaf = made(1.1, 4.0)
    found = standing(leaf, True)
    assert found.over_face == pytest.approx(found.thickness / 2)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"centre": 5.0}, "does not lie in a leaf 4.41"),
        ({"over_face": 1.0}, "measure it from the bottom edge and from the face"),
        ({"mass": 0.0}, "left weighs 0.0 kg; give what it weighs"),
    ],
)
def test_a_leaf_that_cannot_be_is_refused(change: dict[str, float], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        dataclasses.replace(LEAF, **change)  # type: ignore[arg-type]


def test_a_crew_of_nobody_is_refused() -> None:
    with pytest.raises(ValueError, match=r"a crew of 0 with hands at 1\.8 m"):
        Crew(people=0, reach=1.8, friction=0.5)


# --- Which way onto the pins.

PINS = Pins(
    headroom=6 * INCH,
    bottom=5 * INCH,
    top=2 * INCH,
    least=1 * INCH,
    lift=0.25 * INCH,
    margin=0.25 * INCH,
    travel=9 * INCH,
    stub=0.5 * INCH,
)


def method(pins: Pins, key: str) -> HangMethod:
    (one,) = (m for m in hang_between_pins(pins).methods if m.key == key)
    return one


def test_with_room_enough_it_is_dropped_on() -> None:
    found = hang_between_pins(PINS).best
    assert found is not None and found.key == "drop on, top pin put in afterwards"
    assert found.raised == pytest.approx(5.25 * INCH)
    assert found.needs == pytest.approx(5.5 * INCH)
    assert found.spare == pytest.approx(0.5 * INCH)


def test_too_little_headroom_asks_for_a_captive_plate() -> None:
    pins = dataclasses.replace(PINS, headroom=1 * INCH)
    dropped = method(pins, "drop on, top pin put in afterwards")
    assert not dropped.feasible and dropped.spare == pytest.approx(-4.5 * INCH)
    assert dropped.reasons == ("the room over the leaf is too little to raise it so far",)
    best = hang_between_pins(pins).best
    assert best is not None and best.key == "captive plate, top pin put in afterwards"
    assert best.raised == 0.0


def test_a_telescoping_pin_needs_its_stub_and_its_travel() -> None:
    only = dataclasses.replace(PINS, top_pins=("telescopes",))
    found = method(only, "drop on, top pin telescopes")
    assert found.feasible and found.needs == pytest.approx(6.0 * INCH)
    # 2 in into the head over 6 in of room: 8 in stick out.
    short = dataclasses.replace(only, travel=7 * INCH)
    assert method(short, "drop on, top pin telescopes").reasons == (
        "the top pin does not draw back far enough",
    )
    assert any("captured" in words for words in found.cautions)


def test_a_fixed_top_pin_needs_the_leaf_to_come_in_low() -> None:
    fixed = dataclasses.replace(PINS, top_pins=("fixed",), headroom=1 * INCH)
    key = "captive plate, raised onto a fixed top pin"
    assert method(fixed, key).reasons == ("it cannot come in low enough to pass under the top pin",)
    low = dataclasses.replace(fixed, lowering=2.25 * INCH)
    assert method(low, key).feasible and method(low, key).lowered == pytest.approx(2.25 * INCH)
    assert not method(low, "drop on, fixed top pin").feasible
    assert hang_between_pins(fixed).best is None


def test_a_plate_that_cannot_follow_rules_the_captive_ways_out() -> None:
    pins = dataclasses.replace(PINS, plate_can_follow=False, headroom=1 * INCH)
    assert hang_between_pins(pins).best is None
    assert "the plate cannot be anchored with the leaf standing on it" in (
        method(pins, "captive plate, top pin telescopes").reasons
    )


def test_what_was_dropped_on_can_be_lifted_off() -> None:
    found = unseating(PINS)
    assert found.at_full_lift == pytest.approx(-1 * INCH) and found.needs_lift_stop
    assert "lifted off its bottom pin" in found.cautions[0]
    low = unseating(dataclasses.replace(PINS, headroom=0.5 * INCH))
    assert low.at_full_lift == pytest.approx(4.5 * INCH) and not low.needs_lift_stop
    assert not unseating(dataclasses.replace(PINS, captured=True)).needs_lift_stop


def test_settling_and_a_rising_head_draw_the_top_pin() -> None:
    found = unseating(dataclasses.replace(PINS, rise=0.75 * INCH, drop=0.5 * INCH))
    assert found.at_full_drop == pytest.approx(0.75 * INCH) and found.top_short
    assert found.at_full_lift == pytest.approx(-1.75 * INCH)
    assert "make it longer" in found.cautions[-1]


def test_barrel_hinges_are_lifted_over_their_longest_pin() -> None:
    pins = BarrelPins(
        headroom=3 * INCH, engaged=(2.5 * INCH, 2 * INCH), least=INCH, lift=0.25 * INCH, margin=0.0
    )
    found = hang_on_barrels(pins)
    assert found.best is not None and found.best.raised == pytest.approx(2.75 * INCH)
    assert found.unseating.needs_lift_stop
    low = hang_on_barrels(dataclasses.replace(pins, headroom=2 * INCH))
    assert low.best is None and not low.methods[0].feasible
    even = hang_on_barrels(dataclasses.replace(pins, engaged=(2 * INCH, 2 * INCH)))
    assert any("make one longer" in words for words in even.methods[0].cautions)


def test_pins_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match=r"pins: top is -0\.1 m; give nothing or more"):
        dataclasses.replace(PINS, top=-0.1)
    with pytest.raises(ValueError, match="no pin is given; give how far each is in its barrel"):
        BarrelPins(headroom=1.0, engaged=(), least=0.0, lift=0.0, margin=0.0)
