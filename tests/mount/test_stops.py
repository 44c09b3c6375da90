"""What stops the open leaf and keeps it open, by mechanics worked by hand."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from leafwright.frame.solve import FrameResult, solve
from leafwright.job.defaults import DEFAULTS
from leafwright.leaf import Leaf
from leafwright.mount import mounted
from leafwright.mount.held_open import held_open, open_force, rod_arm
from leafwright.mount.records import Mounting
from leafwright.mount.stops import hinge_heights, stops
from leafwright.proof.stopping import Turning, eased, mean_square, stop_load, turning_of
from leafwright.proof.wind import LeafWind
from leafwright.records import Held, Verdict
from tests.frame.pynite import pynite_arrays
from tests.leaves import made, random_leaf
from tests.mount.stacks import (
    BARRELS,
    BUILDING,
    HOLD,
    INCH,
    LBF,
    PIVOT,
    barrels,
    check,
    held,
    job,
    keys,
    mountings,
    pivot,
)
from tests.sizes import cases

FOOT = 12 * INCH


def even(mass: float = 100.0, width: float = 1.5, height: float = 4.0) -> Turning:
    """Return an even plate hung by its edge: m w²/3, centre at w/2."""
    return Turning(
        mass=mass,
        out=width / 2,
        inertia=mass * width**2 / 3,
        product=mass * width / 2 * height / 2,
        percussion=2 * width / 3,
        reach=width,
    )


# ---------------------------------------------------------------- what turns


def test_the_mean_square_of_a_rectangle_by_its_edge_is_a_third() -> None:
    box = ((1.0, 0.0), (3.0, 0.0), (3.0, 5.0), (1.0, 5.0))
    assert mean_square(box, 1.0) == pytest.approx(4.0 / 3.0)
    assert mean_square(box[::-1], 1.0) == pytest.approx(4.0 / 3.0)
    # About its middle a twelfth, and by Steiner's rule from there to anywhere.
    assert mean_square(box, 2.0) == pytest.approx(4.0 / 12.0)
    assert mean_square(box, 0.0) == pytest.approx(4.0 / 12.0 + 4.0)
    # A triangle about its side: b²/6 (statics).
    assert mean_square(((0.0, 0.0), (2.0, 0.0), (0.0, 3.0)), 0.0) == pytest.approx(4.0 / 6.0)


def test_a_frame_of_straight_bars_turns_as_its_bars_do() -> None:
    _, _, leaf = made(1.2, 2.4, frame="SHS 60 x 60 x 4", corners="stiles run through")
    found = turning_of(leaf, 0.03)
    by_hand = 0.0
    for member in leaf.members:
        at = member.bar.centroid[0] - 0.03
        width = 0.06 if member.role.endswith("stile") else 1.2 - 0.12
        by_hand += member.mass * (at**2 + width**2 / 12)
    assert found.inertia == pytest.approx(by_hand, rel=1e-9)
    assert found.mass == pytest.approx(leaf.hung_mass)
    assert found.out == pytest.approx(leaf.centre[0] - 0.03)


@pytest.mark.parametrize("seed", range(cases(8, 80)))
def test_a_leaf_and_its_mirror_turn_alike_and_within_its_width(seed: int) -> None:
    infill = [{"kind": "sheet", "on": "face", "thickness": "2 mm"}]
    _, _, leaf = random_leaf(seed, hand="left", infill=infill)
    _, _, other = random_leaf(seed, hand="right", infill=infill)
    found, mirrored = turning_of(leaf, 0.03), turning_of(other, 0.03)
    assert found.mass == pytest.approx(leaf.hung_mass)
    for name in ("mass", "out", "inertia", "product", "percussion", "reach"):
        assert getattr(mirrored, name) == pytest.approx(getattr(found, name), rel=1e-9), name
    # Steiner's rule below, all of the mass at the nose above.
    assert found.mass * found.out**2 < found.inertia < found.mass * found.reach**2
    assert found.out < found.percussion < found.reach


def test_a_leaf_that_is_nearly_all_sheet_is_felt_least_two_thirds_out() -> None:
    # Centre of percussion of an even plate: 2/3 of its width (mechanics).
    infill = [{"kind": "panel", "on": "back", "mass_per_area": "2000 kg/m2"}]
    _, _, leaf = made(1.2, 2.4, frame="SHS 40 x 40 x 3", infill=infill)
    assert turning_of(leaf, 0.0).percussion == pytest.approx(0.8, rel=0.002)


# ---------------------------------------------------------------- the stop's load


def test_a_stop_takes_up_the_leaf_s_energy_by_hand() -> None:
    # 100 kg, 1.5 m: I 75 kg m², ω 2/3 rad/s, 16.7 J; in 25 mm 667 N evenly, twice that springing.
    found = stop_load(even(), nose_speed=1.0, out=1.0, travel=0.025, hinges=(0.0, 4.0))
    assert found.energy == pytest.approx(75 * (2 / 3) ** 2 / 2)
    assert found.even == pytest.approx(2000 / 3)
    assert found.springing == pytest.approx(4000 / 3)


def test_at_the_centre_of_percussion_a_stop_only_twists() -> None:
    found = stop_load(even(), nose_speed=1.0, out=1.0, travel=0.025, hinges=(0.0, 4.0))
    assert found.level == pytest.approx(0.0, abs=1e-9)
    # Standing on the floor it has half of itself against either hinge.
    assert found.hinges == pytest.approx((-found.springing / 2, found.springing / 2))


def test_a_stop_far_out_loads_the_hinges_with_half_its_force() -> None:
    # The trade's own figure: at the nose, half of the stop's force.
    far = stop_load(even(), nose_speed=1.0, out=1.5, travel=0.025, hinges=(0.0, 4.0))
    assert far.level == pytest.approx(far.springing / 2)
    # And close in, against the axis, all of it but a share that goes with the distance.
    near = stop_load(even(), nose_speed=1.0, out=0.25, travel=0.025, hinges=(0.0, 4.0))
    assert near.level == pytest.approx(-0.75 * near.springing)


@pytest.mark.parametrize("seed", range(cases(10, 100)))
def test_stop_inertia_and_hinges_are_in_balance(seed: int) -> None:
    rng = random.Random(seed)
    turning = even(rng.uniform(30, 300), rng.uniform(0.8, 3.0), rng.uniform(2.0, 5.0))
    turning = replace(turning, product=turning.product * rng.uniform(0.8, 1.2))
    low = rng.uniform(0.0, 0.4)
    high = rng.uniform(1.5, 5.0)
    out = rng.uniform(0.2, 1.0) * turning.reach
    found = stop_load(turning, nose_speed=1.3, out=out, travel=0.03, hinges=(low, high))
    slows = found.springing * out / turning.inertia
    below, above = found.hinges
    across = found.springing + below + above
    assert across == pytest.approx(turning.mass * turning.out * slows)
    assert below * low + above * high == pytest.approx(turning.product * slows)


@pytest.mark.parametrize("seed", range(cases(5, 50)))
def test_speed_counts_twice_over_and_travel_once(seed: int) -> None:
    rng = random.Random(seed)
    v, s = rng.uniform(0.3, 2.0), rng.uniform(0.005, 0.1)
    base = stop_load(even(), nose_speed=v, out=1.2, travel=s, hinges=(0.0, 4.0))
    fast = stop_load(even(), nose_speed=2 * v, out=1.2, travel=s, hinges=(0.0, 4.0))
    soft = stop_load(even(), nose_speed=v, out=1.2, travel=2 * s, hinges=(0.0, 4.0))
    assert fast.springing == pytest.approx(4 * base.springing)
    assert soft.springing == pytest.approx(base.springing / 2)
    assert soft.hinges == pytest.approx((base.hinges[0] / 2, base.hinges[1] / 2))


# ---------------------------------------------------------------- its checks


def across(m: Mounting, place: str) -> float:
    """Return what lies across the leaf there as it meets its stop, pins free [N]."""
    return next(p.z for p in m.proof.pivot_loads if p.place == place and p.situation == "open stop")


def hung(mount: dict[str, Any], **hold: Any) -> Mounting:
    """Return a leaf proved with this of its hold changed."""
    (m,) = mountings(job(mount, hold={**HOLD, **hold}))
    return m


@pytest.mark.parametrize("mount", [PIVOT, BARRELS], ids=["pivot", "hinges"])
@pytest.mark.parametrize("height", [None, "48 in"])
def test_the_frame_gives_what_statics_with_inertia_does(
    mount: dict[str, Any], height: str | None
) -> None:
    m = hung(mount, stop_travel="6 in", **({"stop_height": height} if height else {}))
    turning = turning_of(m.leaf, m.place.axis.value)
    load = stop_load(
        turning,
        nose_speed=4 * FOOT,
        out=30 * INCH,
        travel=6 * INCH,
        hinges=hinge_heights(m),
        height=(48.0 if height else 1.25) * INCH,
    )
    knock = m.proof.stopping
    assert knock is not None
    assert knock.stiff == pytest.approx(load.springing, rel=0.02)
    part = knock.force / knock.stiff
    assert 0.5 < part < 1.0
    assert abs(across(m, "open stop")) == pytest.approx(part * load.springing, rel=0.02)
    sign = math.copysign(1.0, across(m, "open stop"))
    for place, force in zip((m.pivots[0], m.pivots[-1]), load.hinges, strict=True):
        found = sign * across(m, place)
        assert found == pytest.approx(part * force, abs=0.03 * load.springing)


@pytest.mark.parametrize("mount", [PIVOT, BARRELS], ids=["pivot", "hinges"])
def test_an_independent_solver_moves_the_stopped_leaf_alike(mount: dict[str, Any]) -> None:
    # PyNiteFEA, without shear deformation, as in `tests/frame/test_against_pynite.py`.
    model = hung(mount).proof.model
    result = solve(model, shear=False)
    assert isinstance(result, FrameResult)
    moved, _, ends = pynite_arrays(model, result)
    for c, case in enumerate(model.cases):
        if case.key.startswith("open stop"):
            for ours, theirs in (
                (result.displacements[c], moved[c]),
                (result.end_forces[c], ends[c]),
            ):
                assert np.abs(ours - theirs).max() < 1e-6 * np.abs(theirs).max()


@pytest.mark.parametrize("stiffness", [1e3, 1e4, 1e6])
def test_a_leaf_that_gives_meets_its_stop_as_two_springs_in_a_row_do(stiffness: float) -> None:
    # A mass on a spring against a spring: v √(m k), k of both in a row.
    mass, speed, stop = 40.0, 1.2, 2e4
    stiff = speed * math.sqrt(mass * stop)
    energy = 0.5 * mass * speed**2
    # The stop gives the same whatever the leaf does: that of the force in it at last.
    exact = speed * math.sqrt(mass / (1.0 / stop + 1.0 / stiffness))
    travel = exact / stop
    believed = 2.0 * energy / travel
    part = eased(energy, 0.5 * believed**2 / stiffness)
    assert part * believed == pytest.approx(exact)
    assert exact < stiff


def test_a_leaf_that_gives_nothing_meets_its_stop_with_the_whole_force() -> None:
    assert eased(10.0, 0.0) == 1.0
    assert eased(10.0, 1e-6) == pytest.approx(1.0, abs=1e-6)


@pytest.mark.parametrize("mount", [PIVOT, BARRELS], ids=["pivot", "hinges"])
def test_pins_and_what_holds_them_are_proved_for_a_hard_stop(mount: dict[str, Any]) -> None:
    soft = hung(mount, stop_travel="20 in")
    hard = hung(mount, stop_travel="1/4 in", nose_speed="12 ft/s")
    by_soft, by_hard = (
        {c.key: c for _, prove in mounted(m).links for c in prove.checks} for m in (soft, hard)
    )
    of_stop = {k for k, c in by_hard.items() if c.case.startswith("meeting its open stop")}
    assert of_stop
    for key in of_stop:
        one, other = by_soft[key].ratio, by_hard[key].ratio
        assert other is None or one is None or other >= one
    if mount is PIVOT:
        heads = " ".join(by_hard[key].subject for key in of_stop)
        for part in ("bottom pin", "top pin", "bottom sleeve", "hanging stile"):
            assert part in heads
    else:
        assert any("hinge" in by_hard[key].subject for key in of_stop)
    assert any(c.verdict is Verdict.SHORT for k, c in by_hard.items() if k in of_stop)


def test_a_leaf_without_a_stop_has_no_such_case() -> None:
    m = hung(PIVOT, stop_travel=None)
    assert m.proof.stopping is None
    assert not [c for c in m.proof.cases if c.situation.startswith("open stop")]


def test_by_load_factors_a_knock_is_a_live_load() -> None:
    (m,) = mountings(job(PIVOT, method="LRFD"))
    (asd,) = mountings(job(PIVOT))
    assert across(m, "open stop") == pytest.approx(1.6 * across(asd, "open stop"))


def test_infill_is_asked_about_where_the_jolt_is_more_than_its_wind() -> None:
    soft = check(stops(hung(PIVOT, stop_travel="4 in")), "stop/infill")
    assert soft.verdict is Verdict.OK
    hard = check(stops(hung(PIVOT, stop_travel="1/8 in", nose_speed="12 ft/s")), "stop/infill")
    assert hard.verdict is Verdict.ASK
    # Its mass on each square, at what the nose slows with.
    m = hung(PIVOT, stop_travel="4 in")
    (piece,) = {p.kind: p for p in m.leaf.infill}.values()
    assert m.proof.stopping is not None
    reach = m.leaf.width - m.place.axis.value
    assert soft.demand == pytest.approx(piece.mass / piece.area * m.proof.stopping.slows * reach)


def test_a_stop_out_of_the_leaf_s_reach_is_refused() -> None:
    one = check(stops(held(pivot(), stop_out="6 ft")), "stop/place")
    assert one.verdict is Verdict.SHORT
    assert "from the axis" in one.change
    assert check(stops(held(pivot())), "stop/place").verdict is Verdict.OK


@pytest.mark.parametrize("lacking", ["stop_out", "stop_travel"])
def test_a_stop_that_is_not_known_is_asked_with_its_energy_and_best_place(lacking: str) -> None:
    without: dict[str, Any] = {lacking: None}
    m = held(pivot(), **without)
    one = check(stops(m), "stop/open")
    assert one.verdict is Verdict.ASK
    assert f"write {lacking} in the leaf's hold" in one.change
    turning = turning_of(m.leaf, m.place.axis.value)
    energy = 0.5 * turning.inertia * (4 * FOOT / turning.reach) ** 2
    assert f"{energy / (LBF * FOOT):.0f} ft·lb" in one.change
    assert "stop/place" not in keys(stops(m))


def test_a_nose_speed_that_is_not_said_is_a_listed_default() -> None:
    proved = stops(held(pivot(), nose_speed=None))
    (speed,) = (q for q in proved.defaults if q.name == "nose speed")
    assert speed.value == DEFAULTS["nose speed"].inch
    assert "nose speed" not in {q.name for q in stops(pivot()).defaults}


def test_what_a_stop_gives_is_told_in_words() -> None:
    said = " ".join(stops(pivot()).words)
    assert "least felt at the hinges" in said
    assert "ft·lb" in said
    warned = " ".join(stops(pivot()).cautions)
    assert "A breeze of 1.00 psf" in warned


def test_hinges_are_where_the_job_puts_them() -> None:
    assert hinge_heights(barrels()) == pytest.approx((8 * INCH, 88 * INCH))
    assert hinge_heights(pivot()) == pytest.approx((0.0, 96 * INCH))


# ---------------------------------------------------------------- held open


def blown(m: Mounting, force: float) -> Mounting:
    """Return a leaf with so much wind on it, factors of 1 [N]."""
    wind = m.proof.wind
    assert isinstance(wind, LeafWind)
    factors = type(wind.factors)(1.0, 1.0)
    return replace(m, proof=replace(m.proof, wind=replace(wind, force=force, factors=factors)))


def test_half_of_the_wind_on_an_even_leaf_is_at_its_nose() -> None:
    # The trade's own figure: 1 psf is 53 lbf on the leaf, half of it at the nose.
    found = open_force(blown(pivot(), 53 * LBF), 0.75, 1.5)
    assert found is not None
    assert found.force == pytest.approx(26.5 * LBF)


def test_wind_that_is_not_known_is_not_made_up() -> None:
    m = pivot()
    unknown = replace(m, proof=replace(m.proof, wind=Held("not known")))
    assert open_force(unknown, 0.75, 1.5) is None
    one = check(held_open(unknown, 0.75, 1.5), "hold/open")
    assert one.verdict is Verdict.ASK


@pytest.mark.parametrize(
    ("open_", "outdoors", "says"),
    [
        ("unknown", True, 'open = "hook", "drop rod" or "nothing"'),
        ("nothing", True, "fit a hook or a drop rod"),
        ("hook", True, "show that hook, eye and fixings hold"),
        ("unknown", False, 'open = "hook", "drop rod" or "nothing"'),
    ],
)
def test_what_keeps_it_open_is_asked_with_its_force(open_: str, outdoors: bool, says: str) -> None:
    building = {**BUILDING, "indoors": "unknown" if outdoors else "yes"}
    m = blown(held(pivot(building=building), open=open_), 100 * LBF)
    one = check(held_open(m, 1.0, 2.0), "hold/open")
    assert one.verdict is Verdict.ASK
    assert says in one.change
    assert "50.0 lbf" in one.change


def test_indoors_nothing_is_a_caution_and_no_question() -> None:
    proved = held_open(held(pivot(), open="nothing"), 1.0, 2.0)
    assert not proved.checks
    assert "draught" in proved.cautions[0]


def test_a_drop_rod_is_bent_and_sheared_by_hand() -> None:
    m = blown(held(pivot(), open="drop rod", rod_diameter="3/4 in"), 200 * LBF)
    proved = held_open(m, 1.0, 2.0)
    d = 0.75 * INCH
    arm = rod_arm(m, d)
    deepest = next(g.value for g in m.room.gaps if g.key == "doorway/deepest gap")
    assert arm == pytest.approx(deepest + d)
    bend, shear = (check(proved, f"hold/open rod {what}") for what in ("bending", "shear"))
    F_y = 36e3 * 6894.757293168361
    assert bend.demand == pytest.approx(100 * LBF * arm)
    # AISC 360-22 F11: 1.6 F_y S of a round bar governs; Ω 1.67.
    assert bend.available == pytest.approx(1.6 * F_y * math.pi * d**3 / 32 / 1.67, rel=1e-6)
    # J4.2(a) on three quarters of the bar: Ω 1.50.
    assert shear.available == pytest.approx(0.6 * F_y * 0.75 * math.pi * d**2 / 4 / 1.50, rel=1e-6)
    assert [line.figure for line in bend.working] == [
        "beams.cantilever_tip_load",
        "aisc360.bending.bending_round_bar",
        "aisc360.safety.available",
    ]
    thin = held_open(held(m, open="drop rod", rod_diameter="1/8 in"), 1.0, 2.0)
    assert check(thin, "hold/open rod bending").verdict is Verdict.SHORT


def test_a_drop_rod_of_unknown_thickness_is_asked() -> None:
    m = held(pivot(), open="drop rod", rod_diameter=None)
    assert "write rod_diameter" in check(held_open(m, 1.0, 2.0), "hold/open").change


def test_both_leaves_of_a_pair_are_asked_about_their_hold_once() -> None:
    hold = {key: value for key, value in HOLD.items() if key != "stop_out"}
    found = [
        c
        for m in mountings(job(PIVOT, hold={**hold, "open": "unknown"}, pair=True))
        for c in stops(m).checks
    ]
    assert [c.key for c in found] == ["left/stop/open", "left/hold/open"]
    assert all("both leaves" in c.subject for c in found)


def test_a_right_leaf_turns_as_a_left_one() -> None:
    left, right = mountings(job(BARRELS, pair=True))
    turned: list[Leaf] = [left.leaf, right.leaf]
    a, b = (
        turning_of(leaf, m.place.axis.value) for leaf, m in zip(turned, (left, right), strict=True)
    )
    assert a.inertia == pytest.approx(b.inertia)
    assert a.out > 0.0
