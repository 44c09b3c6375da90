"""The swing of leaves in their doorway: clearances, reveal, obstacles, clear opening, floor."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from leafwright.doorway.opening import clear_widths
from leafwright.doorway.outline import (
    Block,
    Cover,
    DoorwayPlan,
    LeafPlan,
    Reveal,
    ScrewHeads,
    block,
    doorway_plan,
    leaf_plan,
    outline,
)
from leafwright.doorway.swing import Swing, swing
from leafwright.doorway.underneath import floor_gap
from leafwright.records import Check, Verdict, to_json
from tests.doorway.doorways import check as doorway_check
from tests.doorway.doorways import fitted, leaf, pair, random_infill, square
from tests.doorway.plans import (
    INCH,
    doorway_of,
    jamb,
    leaf_of,
    opened,
    pair_of,
    random_leaf,
    solid,
)
from tests.sizes import cases

DEPTH = 2 * INCH  # of the tube of `doorways.leaf`
POST = {"section": "HSS 2 x 2 x 3/16", "shim": "10 mm"}


def swung(plan: LeafPlan, *more: Block, width: float = 1.13, **wishes: Any) -> Swing:
    return swing([plan], doorway_of(width, *more), running_clearance=0.005, **wishes)


def check(found: Swing, key: str) -> Check:
    (one,) = (c for c in found.checks if c.key == key)
    return one


def mirrored(plan: LeafPlan, about: float) -> LeafPlan:
    return replace(plan, hand="right", hinge_edge=2 * about - plan.hinge_edge)


def box_at(name: str, left: float, back: float, size: float = 0.3, **more: Any) -> Block:
    right, front = left + size, back + size
    return block(name, name, "obstacle", left=left, right=right, back=back, front=front, **more)


def test_the_other_hand_is_the_mirror_image() -> None:
    rng = random.Random(411)
    for _ in range(cases(25, 500)):
        plan = random_leaf(rng, swing="both")
        width = plan.hinge_edge + plan.width + 0.006
        bench = box_at("bench", rng.uniform(-0.5, 0.5), 0.4)
        (x0, _), (x1, _) = bench.corners[:2]
        there = box_at("bench", width - x1, 0.4, x1 - x0)
        one = swung(plan, bench, width=width)
        other = swung(mirrored(plan, width / 2), there, width=width)
        for a, b in zip(one.leaves[0].turns, other.leaves[0].turns, strict=True):
            assert a.opens_to == pytest.approx(b.opens_to, abs=1e-9)
            assert a.heel_face == pytest.approx(b.heel_face, abs=1e-9)
            assert a.heel_back == pytest.approx(b.heel_back, abs=1e-9)
            for mine, theirs in zip(a.curves, b.curves, strict=True):
                assert mine.gaps == pytest.approx(theirs.gaps, abs=1e-9)
                # How deep an overlap goes is searched for; a gap is exact.
                within = 1e-12 if mine.least > 0 else 1e-7
                assert mine.least == pytest.approx(theirs.least, abs=within)
        for mine_, theirs_ in zip(one.clear, other.clear, strict=True):
            assert mine_.seen == pytest.approx(theirs_.seen, abs=1e-9)
            assert mine_.greatest == pytest.approx(theirs_.greatest, abs=1e-9)


def test_a_leaf_alike_on_both_faces_swings_alike_both_ways() -> None:
    rng = random.Random(412)
    for _ in range(cases(25, 500)):
        thick = rng.uniform(0.001, 0.02)
        covers = (Cover("face", thick, 0.01), Cover("back", thick, 0.01))
        found = swung(leaf_of(swing="both", covers=covers, axis=rng.uniform(0, 0.05)))
        toward, away = found.leaves[0].turns
        for mine, theirs in zip(toward.curves, away.curves, strict=True):
            assert mine.gaps == pytest.approx(theirs.gaps, abs=1e-12)
            assert mine.least == pytest.approx(theirs.least, abs=1e-12)
        assert toward.heel_face == pytest.approx(away.heel_back, abs=1e-12)
        assert found.clear[0].seen == pytest.approx(found.clear[1].seen, abs=1e-12)


def test_more_infill_never_widens_a_gap() -> None:
    rng = random.Random(413)
    for _ in range(cases(25, 500)):
        plan = random_leaf(rng)
        more = replace(
            plan,
            covers=(
                *(replace(c, thickness=c.thickness + 0.004) for c in plan.covers),
                Cover("face" if rng.random() < 0.5 else "back", rng.uniform(0.001, 0.01)),
            ),
        )
        one, other = (swung(p, width=plan.hinge_edge + plan.width + 0.02) for p in (plan, more))
        for a, b in zip(
            one.leaves[0].turns[0].curves, other.leaves[0].turns[0].curves, strict=True
        ):
            assert b.least <= a.least + 1e-12
            assert (b.gaps[a.gaps > 0] <= a.gaps[a.gaps > 0] + 1e-12).all()
        free = [
            clear_widths([p], doorway_of(3.0), way, one.angles)
            for p in (plan, more)
            for way in plan.ways
        ]
        for before, after in zip(free[0], free[1], strict=True):
            assert (after <= before + 1e-12).all()


def test_infill_held_back_from_the_heel_frees_it() -> None:
    # Trade figure, computed: 0.601 in of sweep with 1/4 in on both faces, 0.414 in bare.
    def least(held: float) -> float:
        covers = (Cover("face", INCH / 4, held), Cover("back", INCH / 4, held))
        return swung(leaf_of(covers=covers)).leaves[0].turns[0].heel.least

    assert 0.020 - least(0.0) == pytest.approx(0.601 * INCH, abs=0.0005 * INCH)
    assert 0.020 - least(INCH) == pytest.approx(0.414 * INCH, abs=0.0005 * INCH)
    assert least(0.0) < least(INCH / 8) < least(INCH)


@pytest.mark.parametrize("swings", ["toward", "away", "both"])
def test_the_heel_and_the_clear_opening_agree_with_the_doorway_stage(swings: str) -> None:
    rng = random.Random(414)
    right_angle = np.array([math.pi / 2])
    for _ in range(cases(8, 200)):
        wishes = [{"swing": swings, "infill": random_infill(rng)} for _ in range(2)]
        leaves = pair(*wishes)
        if rng.random() < 0.4:
            leaves = (leaf(rng.choice(["left", "right"]), **wishes[0]),)
        jambs = {"jamb": POST} if rng.random() < 0.5 else {}
        made = fitted(
            square(rng.uniform(2.0, 4.0), 3.0),
            leaves,
            heel_gap=f"{rng.uniform(18, 40):.2f} mm",
            **jambs,
        )
        plans = [leaf_plan(place, frame_depth=DEPTH) for place in made.leaves]
        round_them = doorway_plan(made, jamb_depth=DEPTH)
        found = swing(plans, round_them, running_clearance=0.005)
        for place, one in zip(made.leaves, found.leaves, strict=True):
            spare = doorway_check(made, f"{place.key}/heel sweep")
            assert spare.available is not None
            assert spare.demand is not None
            least = min(turn.heel.least for turn in one.turns)
            assert least - 0.005 == pytest.approx(spare.available - spare.demand, abs=1e-9)
        # Of leaves that swing both ways that stage lets each be open the way that leaves less.
        whole = clear_widths([], round_them, "toward", np.array([0.0]))[0][0]
        takes = [
            whole
            - min(clear_widths([plan], round_them, way, right_angle)[0][0] for way in plan.ways)
            for plan in plans
        ]
        assert whole - sum(takes) == pytest.approx(made.clear_opening.value, abs=1e-9)
        if any(turn.opens_to < math.pi / 2 for one in found.leaves for turn in one.turns):
            continue
        rows = [row for clear in found.clear for row in clear.table if row.angle == math.pi / 2]
        assert len(rows) == len(found.clear)
        least = min(row.seen for row in rows)
        assert least >= made.clear_opening.value - 1e-9
        if swings != "both" or len(plans) == 1:
            assert least == pytest.approx(made.clear_opening.value, abs=1e-9)


def test_a_leafs_plan_has_the_thickness_of_its_place() -> None:
    infill = [{"kind": "boards", "on": "back", "thickness": "19 mm"}]
    made = fitted(square(1.2, 2.2), [leaf(infill=infill)])
    (place,) = made.leaves
    plan = leaf_plan(place, frame_depth=DEPTH, nose_drop=0.001)
    assert (plan.half("face"), plan.half("back")) == pytest.approx((INCH, INCH + 0.019))
    assert plan.axis_x == pytest.approx(plan.hinge_edge + INCH)
    assert plan.nose_drop == 0.001
    held = leaf_plan(place, frame_depth=DEPTH, covers=[Cover("back", 0.019, 0.03)])
    assert held.covers == (Cover("back", 0.019, 0.03),)
    with pytest.raises(ValueError, match=r"leaf: frame_depth 0.1 m is more than the leaf's thick"):
        leaf_plan(place, frame_depth=0.1)


def test_the_plan_of_a_doorway_puts_posts_in_their_reveal() -> None:
    made = fitted(square(1.2, 2.2), [leaf("right")], jamb=POST)
    found = doorway_plan(made, jamb_depth=DEPTH, reveal=Reveal(0.10, -0.20))
    spans = {
        b.key: (min(x for x, _ in b.corners), max(x for x, _ in b.corners)) for b in found.blocks
    }
    assert set(spans) == {"left/jamb", "left/reveal", "right/jamb", "right/reveal"}
    # 10 mm of shim behind a 2 in post; the wall's own edges are 0 and 1.2 m.
    assert spans["left/jamb"] == pytest.approx((0.010, 0.010 + DEPTH), abs=1e-6)
    assert spans["right/jamb"] == pytest.approx((1.19 - DEPTH, 1.19), abs=1e-6)
    assert spans["left/reveal"][1] == pytest.approx(0.0, abs=1e-6)
    assert spans["right/reveal"][0] == pytest.approx(1.2, abs=1e-6)
    bare = doorway_plan(
        fitted(square(1.2, 2.2), [leaf()]), jamb_depth=DEPTH, reveal=Reveal(0.10, -0.20)
    )
    assert {z for b in bare.blocks for _, z in b.corners} == {0.10, -0.20}


def test_a_heel_that_meets_its_jamb_says_where_and_what_to_do() -> None:
    found = swung(leaf_of(hinge_edge=0.008), width=1.2)
    one = check(found, "swing/leaf/heel/toward")
    sweep = math.hypot(INCH, INCH) - INCH
    assert one.verdict is Verdict.SHORT
    assert one.demand == 0.005
    assert one.available == pytest.approx(0.008 - sweep, abs=1e-9)
    (turn,) = found.leaves[0].turns
    # The corner, at 1 in and 1 in from the axis, is at the jamb where √2 · 1 in · cos(45° − θ) is
    # the axis's distance from it.
    at = math.pi / 4 - math.acos((INCH + 0.008) / (math.sqrt(2) * INCH))
    assert turn.opens_to == pytest.approx(at, abs=1e-9)
    assert turn.stopped_by == "the left jamb"
    assert one.change == (
        f"it touches at {math.degrees(at):.1f}° open: widen the heel gap, set the axis farther in, "
        "or hold the infill back from the heel"
    )


def test_a_gap_within_the_band_of_the_readings_is_tight() -> None:
    sweep = math.hypot(INCH, INCH) - INCH
    for sd, verdict in ((0.0, "ok"), (0.0005, "ok"), (0.0015, "tight")):
        plan = leaf_of(hinge_edge=sweep + 0.005 + 0.002)
        round_it = DoorwayPlan((jamb("left", 0.0, sd=sd), jamb("right", 1.3)))
        found = swing([plan], round_it, running_clearance=0.005)
        one = check(found, "swing/leaf/heel/toward")
        assert one.verdict is Verdict(verdict)
        assert ("95 % band of the readings crosses the limit" in one.change) == (sd == 0.0015)


def test_the_nose_of_a_single_leaf_grows_past_the_jamb_it_shuts_against() -> None:
    plan = leaf_of(covers=(Cover("back", 0.010),))
    found = swung(plan, width=0.020 + plan.width + 0.004)
    nose = found.leaves[0].turns[0].nose
    assert nose is not None
    a, c = plan.width - plan.axis, INCH + 0.010
    assert nose.least == pytest.approx(0.004 - (math.hypot(a, c) - a), abs=1e-9)
    assert nose.least_at == pytest.approx(math.atan2(c, a), abs=1e-6)
    assert check(found, "swing/leaf/nose/toward").verdict is Verdict.SHORT


def test_an_obstacle_stops_the_leaf_where_it_stands_at_its_height() -> None:
    bench = box_at("bench", 0.2, 0.5, bottom=0.0, top=0.9)
    found = swung(leaf_of(), bench)
    (turn,) = found.leaves[0].turns
    # The face, 1 in off the axis, meets the box's lower right corner.
    dx, dz = 0.5 - (0.020 + INCH), 0.5
    at = math.atan2(dz, dx) - math.asin(INCH / math.hypot(dx, dz))
    assert turn.opens_to == pytest.approx(at, abs=1e-9)
    assert turn.stopped_by == "the bench"
    one = check(found, "swing/leaf/obstacle/bench/toward")
    assert one.verdict is Verdict.SHORT
    assert one.change.endswith("move it, or stop the leaf before it")
    clear = found.clear[0]
    assert clear.seen[-1] == pytest.approx(
        clear_widths([leaf_of()], doorway_of(1.13), "toward", np.array([at]))[0][0], abs=1e-9
    )
    # A lamp over the leaf and a sill under it are out of its way.
    for bottom, top in ((4.03, 4.5), (-0.5, 0.01)):
        above = swung(leaf_of(), box_at("lamp", 0.2, 0.5, bottom=bottom, top=top))
        assert above.leaves[0].turns[0].obstacles == ()
    low = swung(leaf_of(nose_drop=0.015), box_at("sill", 0.2, 0.5, bottom=-0.5, top=0.01))
    assert len(low.leaves[0].turns[0].obstacles) == 1


def test_a_deep_reveal_limits_the_angle_and_the_check_follows_the_wish() -> None:
    wall = block(
        "left/reveal", "left side of the reveal", "reveal",
        left=-0.4, right=-0.02, back=-0.3, front=0.25, side="left",
    )  # fmt: skip
    found = swung(leaf_of(), wall, wished=math.radians(80.0))
    (turn,) = found.leaves[0].turns
    assert math.radians(90.0) < turn.opens_to < math.radians(100.0)
    assert turn.stopped_by == "the left side of the reveal"
    assert check(found, "swing/leaf/reveal/left/reveal/toward").verdict is Verdict.OK
    wide = swung(leaf_of(), wall, wished=math.radians(110.0))
    assert check(wide, "swing/leaf/reveal/left/reveal/toward").verdict is Verdict.SHORT


def test_the_clear_opening_at_any_angle_is_what_turned_leaves_leave() -> None:
    rng = random.Random(415)
    for _ in range(cases(25, 500)):
        left = random_leaf(rng, key="left", swing="both")
        right = random_leaf(rng, key="right", swing="both")
        width = left.hinge_edge + left.width + right.hinge_edge + right.width + 0.01
        right = mirrored(right, width / 2)
        round_them = doorway_of(width)
        way = rng.choice(["toward", "away"])
        angle = rng.uniform(0.0, 1.9)
        signed = angle if way == "toward" else -angle
        seen, within = clear_widths(
            [left, right], round_them, "toward" if way == "toward" else "away", np.array([angle])
        )
        shapes = [opened(plan, signed) for plan in (left, right)]
        inner = max(0.0, shapes[0].bounds[2]), min(width, shapes[1].bounds[0])
        assert seen[0] == pytest.approx(max(inner[1] - inner[0], 0.0), abs=1e-9)
        strip = block("", "", "obstacle", left=-9, right=9, back=-INCH, front=INCH)
        cut = [s.intersection(solid([strip.corners])) for s in shapes]
        low = 0.0 if cut[0].is_empty else max(0.0, cut[0].bounds[2])
        high = width if cut[1].is_empty else min(width, cut[1].bounds[0])
        assert within[0] == pytest.approx(max(high - low, 0.0), abs=1e-9)
        assert within[0] >= seen[0] - 1e-12


def test_the_greatest_clear_opening_and_its_angle() -> None:
    # Opened past 90° the back's corners leave the opening: the widest is where the frame's back
    # is all behind the jamb's edge, or at the last angle.
    plan = leaf_of()
    found = swung(plan, width=1.13)
    (clear,) = found.clear
    assert clear.greatest >= clear.seen.max() - 1e-12
    at = clear_widths(
        [plan],
        doorway_of(1.13),
        "toward",
        np.array([clear.greatest_at, clear.greatest_at - 1e-4]),
        limits={"leaf": found.leaves[0].turns[0].opens_to},
    )[0]
    assert at[0] == pytest.approx(clear.greatest, abs=1e-9)
    assert at[1] < clear.greatest
    assert [round(math.degrees(row.angle)) for row in clear.table] == list(range(0, 181, 15))


def test_a_stop_ends_the_curves() -> None:
    found = swung(leaf_of(), upto=math.radians(100.0), steps=100)
    assert len(found.angles) == 101
    assert found.angles[-1] == pytest.approx(math.radians(100.0))
    assert [round(math.degrees(r.angle)) for r in found.clear[0].table] == list(range(0, 91, 15))


def flat(x: np.ndarray, z: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    return np.zeros(x.shape), np.full(x.shape, 0.001)


def test_the_gap_over_a_level_floor_follows_the_lean_of_the_axis() -> None:
    rng = random.Random(416)
    for _ in range(cases(25, 500)):
        lean = (rng.uniform(-0.01, 0.01), rng.uniform(-0.01, 0.01))
        hand = rng.choice(["left", "right"])
        plan = leaf_of(hand=hand, nose_drop=rng.uniform(0.0, 0.003))
        angles = np.linspace(0.0, math.pi / 2, 91)
        found = floor_gap(plan, "toward", flat, angles, lean=lean)
        for i, j in ((0, 0), (0, 40), (45, 40), (90, 20)):
            u = complex(found.stations[j] - plan.axis)
            worst = math.inf
            for z in (-INCH, 0.0, INCH):
                at = (u + 1j * z) * np.exp(1j * angles[i])
                right = at.real if hand == "left" else -at.real
                drop = plan.nose_drop * found.stations[j] / plan.width
                worst = min(worst, 0.020 - drop - lean[0] * right - lean[1] * at.imag)
            assert found.gaps[i, j] == pytest.approx(worst, abs=1e-12)
        assert found.least <= found.gaps.min()
        assert found.sd == 0.001


def test_the_least_gap_over_a_hump_is_where_the_hump_is() -> None:
    top = (0.55, 0.61)

    def hump(x: np.ndarray, z: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        far = (x - top[0]) ** 2 + (z - top[1]) ** 2
        return 0.012 * np.exp(-far / (2 * 0.1**2)), 0.001 + 0 * x

    found = swing(
        [leaf_of()],
        doorway_of(1.13),
        running_clearance=0.005,
        floor=hump,
        floor_clearance=0.010,
    )
    under = found.leaves[0].turns[0].floor
    assert under is not None
    assert under.least == pytest.approx(0.008, abs=1e-5)
    assert math.dist(under.at, top) < under.resolution
    assert under.resolution < 0.03
    one = check(found, "swing/leaf/floor/toward")
    assert one.verdict is Verdict.SHORT
    assert one.change.startswith(f"it is lowest over the floor at {math.degrees(under.angle):.1f}°")
    ok = swing(
        [leaf_of()],
        doorway_of(1.13),
        running_clearance=0.005,
        floor=hump,
        floor_clearance=0.007,
    )
    # The gap's own standard deviation is 1 mm: its 95 % band crosses a limit 1 mm away.
    assert check(ok, "swing/leaf/floor/toward").verdict is Verdict.TIGHT


def test_a_lean_given_in_the_wrong_unit_is_refused() -> None:
    with pytest.raises(ValueError, match=r"leans by .*more than 1 in 10: plumb it, or check that"):
        floor_gap(leaf_of(), "toward", flat, np.array([0.0, 1.0]), lean=(3.0, 0.0))


def test_what_cannot_swing_is_refused_in_words() -> None:
    one = leaf_of()
    with pytest.raises(ValueError, match=r"leaves hang on \['left', 'left'\]: give one leaf, or"):
        swing([one, one], doorway_of(2.0), running_clearance=0.005)
    with pytest.raises(ValueError, match=r"wished 2.0 rad, upto 1.0 rad"):
        swung(one, wished=2.0, upto=1.0)
    with pytest.raises(ValueError, match="the leaf hangs on the left side, where the doorway has"):
        swing([one], DoorwayPlan((jamb("right", 1.0),)), running_clearance=0.005)
    with pytest.raises(ValueError, match="the doorway has no jamb on its right side: add one"):
        swing([one], DoorwayPlan((jamb("left", 0.0),)), running_clearance=0.005)
    with pytest.raises(ValueError, match="bench has no size: left 1 to right 1"):
        block("bench", "bench", "obstacle", left=1, right=1, back=0, front=1)
    heads = leaf_of(screw_heads=(ScrewHeads("face", 0.003, 0.2, 0.1),))
    with pytest.raises(ValueError, match=r"lies on its face from 0.2 to 0.1 m of its width"):
        outline(heads, 0.0)


def test_a_swing_is_plain_data() -> None:
    left, right = pair_of(2.4, 0.008)
    found = swing([left, right], doorway_of(2.4), running_clearance=0.005, floor=flat)
    data = to_json(found)
    assert len(data["leaves"][0]["turns"][0]["heel"]["gaps"]) == 181
    assert not found.leaves[0].turns[0].heel.gaps.flags.writeable
