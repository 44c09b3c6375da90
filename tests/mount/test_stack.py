"""The vertical stack: loops worked by hand, limits against draws, float, unseating, grease."""

from __future__ import annotations

import itertools
import math
import random
from typing import Any

import numpy as np
import pytest

from leafwright import chain
from leafwright.job.defaults import DEFAULTS
from leafwright.mount import LeafMount, mounted
from leafwright.mount.closing import Closing, closed
from leafwright.mount.loops import Stack, stack_of
from leafwright.mount.sleeve import plug_rows, sleeve_float
from leafwright.mount.stack import stack
from leafwright.mount.unseat import grease_pressure, moves, unseated
from leafwright.records import Verdict
from tests.mount.stacks import (
    BEST_FIRST,
    BUILDING,
    INCH,
    PIVOT,
    barrels,
    check,
    job,
    keys,
    mountings,
    pivot,
    wider,
)
from tests.sizes import cases

CUT = 1 / 32
BALL = 0.001


def inches(closing: Closing | None) -> tuple[float, ...]:
    assert closing is not None
    return tuple(size / INCH for size in (closing.value, *closing.worst, *closing.likely))


def closings(found: Stack) -> list[Closing]:
    parts = (found.floor, found.ball, found.head)
    return [closing for one in parts if one is not None for closing in one.closing]


# ---------------------------------------------------------------- the loops, worked by hand


def test_the_ball_loop_closes_by_hand() -> None:
    # 5 + 1.5 + 1 − 7 in over the plate; three cuts of 1/32 and a ball of 0.001.
    found = stack_of(pivot())
    value, low, high, likely_low, likely_high = inches(found.sleeve)
    assert value == pytest.approx(0.5)
    assert (low, high) == pytest.approx((0.5 - 3 * CUT - BALL, 0.5 + 3 * CUT + BALL))
    half = math.sqrt(3 * CUT**2 + BALL**2)
    assert (likely_low, likely_high) == pytest.approx((0.5 - half, 0.5 + half))
    # The spacer's half inch below, and the sleeve's end is flush with the leaf's.
    assert inches(found.hang)[0] == pytest.approx(0.0, abs=1e-9)
    # 7 − 1 − 1.5, of which the pin's own length is no part.
    assert inches(found.bottom_pin)[0] == pytest.approx(4.5)
    assert inches(found.bottom_pin)[1] == pytest.approx(4.5 - 2 * CUT - BALL)


def test_the_running_sum_of_a_loop_ends_where_the_loop_closes() -> None:
    found = stack_of(pivot())
    assert found.ball is not None
    assert [part.name for part in found.ball.parts] == ["pin", "ball", "slug", "sleeve"]
    assert [part.upto / INCH for part in found.ball.parts] == pytest.approx([5.0, 6.5, 7.5, 0.5])
    assert found.floor.parts[-1].upto == pytest.approx(found.over_floor.value)


def test_a_plate_of_mill_tolerance_is_likelier_thick_than_thin() -> None:
    # ASTM A6: 0.01 in under and 0.03 in over, so its middle is 0.01 in up (second-hand).
    found = stack_of(pivot())
    assert inches(found.gap) == pytest.approx(
        (
            0.75,
            0.75 - CUT - 0.03,
            0.75 + CUT + 0.01,
            0.74 - math.hypot(CUT, 0.02),
            0.74 + math.hypot(CUT, 0.02),
        )
    )
    # The top pin: 3 in less the three quarters that are left of the gap under its plate.
    assert inches(found.top_pin)[0] == pytest.approx(2.25)


def test_floor_side_and_head_side_are_never_summed() -> None:
    found = stack_of(pivot())
    assert found.ball is not None
    assert found.head is not None
    bases = [
        {s.base for c in one.closing for s in c.size.slopes}
        for one in (found.floor, found.ball, found.head)
    ]
    floor, ball, head = bases
    assert not ball & head
    assert not floor & head
    # Only the spacer is in both loops below, as their common end.
    assert {base.rpartition("/")[2] for base in floor & ball} == {"spacer, off"}


def test_what_the_survey_leaves_unsure_is_in_the_floor_loop() -> None:
    # The floor at the pivot is the highest here: read once, it stands on both sides.
    assert stack_of(pivot()).over_floor.size.sd == 0.0
    # Where the highest floor is the far corner's, both were read, by one level each.
    (m,) = mountings(job(PIVOT, far_floor="1/4 in"))
    found = stack_of(m)
    assert inches(found.over_floor)[0] < inches(stack_of(pivot()).over_floor)[0]
    assert found.over_floor.size.sd > 0.0
    assert found.over_floor.worst[0] == pytest.approx(
        found.over_floor.size.low - chain.BAND_95 * found.over_floor.size.sd
    )


def test_a_leaf_cut_to_fill_its_opening_has_the_head_s_doubt_over_it() -> None:
    (m,) = mountings(job(PIVOT, fills=True))
    found = stack_of(m)
    assert found.gap is not None
    assert found.head is not None
    assert [part.name for part in found.head.parts][1:3] == [
        "leaf set high or low",
        "leaf tall or short",
    ]
    # Head and floor were read, each ± 1/16 in.
    assert found.gap.size.sd > 1 / 16 * INCH
    assert inches(found.gap)[0] == pytest.approx(0.75)


# ---------------------------------------------------------------- limits against draws


def drawn(closing: Closing, seed: int, draws: int = 10_000) -> np.ndarray:
    """Return draws of a closing size: each tolerance a 95 % band, each reading its own sd."""
    rng = np.random.default_rng(seed)
    out = np.full(draws, closing.size.value)
    for slope in closing.size.slopes:
        half, middle = (slope.high - slope.low) / 2.0, (slope.high + slope.low) / 2.0
        spread = half / chain.BAND_95
        out += slope.by * (middle + spread * rng.standard_normal(draws))
        out += slope.by * slope.sd * rng.standard_normal(draws)
    return out


@pytest.mark.parametrize("which", range(7))
def test_draws_agree_with_the_root_of_the_sum_of_squares(which: int) -> None:
    closing = closings(stack_of(pivot()))[which]
    low, high = np.quantile(drawn(closing, which), (0.025, 0.975))
    # A 2.5 % quantile of 10,000 draws has a standard error of 1.4 % of the half band; three of it.
    slack = 0.042 * closing.either_way
    assert low == pytest.approx(closing.likely[0], abs=slack)
    assert high == pytest.approx(closing.likely[1], abs=slack)


def test_ten_equal_parts_by_a_published_example() -> None:
    # Ten parts of ± 0.1: ± 1.0 at worst and ± 0.316 by root sum of squares (textbook example of
    # statistical tolerancing).
    parts = [chain.base("wish", f"part {i}", "part", 1.0, low=-0.1, high=0.1) for i in range(10)]
    found = closed(chain.total("gap", "gap", [(1.0, part) for part in parts]))
    assert found.worst == pytest.approx((9.0, 11.0))
    assert found.either_way == pytest.approx(0.316, abs=5e-4)


def test_evenly_spread_parts_never_leave_the_worst_case() -> None:
    rng = np.random.default_rng(5)
    for closing in closings(stack_of(pivot())):
        slopes = [s for s in closing.size.slopes if s.high > s.low]
        out = np.full(2000, closing.size.value)
        for s in slopes:
            out += s.by * rng.uniform(s.low, s.high, 2000)
        assert closing.worst[0] - 1e-12 <= out.min()
        assert out.max() <= closing.worst[1] + 1e-12


TOLERANCES = (
    "cut tolerance",
    "ball tolerance",
    "plate over",
    "plate under",
    "setting tolerance",
    "packing tolerance",
    "hole tolerance",
)


@pytest.mark.parametrize("seed", range(cases(6, 60)))
def test_more_tolerance_never_raises_a_margin(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    rng = random.Random(seed)
    m = pivot(
        sleeve_length=f"{rng.uniform(4.0, 7.4):.3f} in",
        top_pin_length=f"{rng.uniform(1.9, 3.0):.3f} in",
        access_hole=f"{rng.uniform(0.7, 1.3):.3f} in",
    )
    before = {c.key: c for c in stack(m).checks}
    ends = {c.size.key: c for c in closings(stack_of(m))}
    name = rng.choice(TOLERANCES)
    monkeypatch.setitem(DEFAULTS, name, wider(name, rng.uniform(1.0, 6.0)))
    for key, after in {c.key: c for c in stack(m).checks}.items():
        rank = BEST_FIRST.index
        assert rank(after.verdict) >= rank(before[key].verdict), (name, key)
    for closing in closings(stack_of(m)):
        was = ends[closing.size.key]
        assert closing.worst[0] <= was.worst[0] + 1e-12
        assert closing.worst[1] >= was.worst[1] - 1e-12
        assert closing.either_way >= was.either_way - 1e-12


# ---------------------------------------------------------------- checks of the loops


def test_a_whole_pivot_passes_with_its_numbers() -> None:
    proved = stack(pivot())
    assert {c.verdict for c in proved.checks} == {Verdict.OK}, [
        (c.key, c.verdict) for c in proved.checks if c.verdict is not Verdict.OK
    ]
    for one in proved.checks:
        assert one.ratio == pytest.approx(one.demand / one.available)  # type: ignore[operator]
        assert one.rule


def test_a_spacer_that_only_just_clears_is_told_with_what_it_may_come_to() -> None:
    thin = pivot(spacer="0.2 in")
    one = check(stack(thin), "stack/over the plate")
    # 3/16 in of running clearance, of 0.2 in ± 1/32.
    assert one.verdict is Verdict.TIGHT
    assert "0.169 in" in one.change
    assert check(stack(pivot(spacer="0.1 in")), "stack/over the plate").verdict is Verdict.SHORT


def test_a_sleeve_too_long_for_its_pin_stands_on_the_weld_round_it() -> None:
    # 7.5 in of parts less 7.2 in of sleeve leave 0.3 in over the plate.
    proved = stack(pivot(sleeve_length="7.2 in", pin_weld="3/8 in"))
    one = check(proved, "stack/sleeve over the plate")
    assert one.verdict is Verdict.SHORT
    assert one.demand == pytest.approx(0.375 * INCH)
    thin = check(stack(pivot(sleeve_length="7.2 in")), "stack/sleeve over the plate")
    assert thin.demand == pytest.approx(3 / 16 * INCH)


def test_what_only_the_worst_case_fails_is_tight_and_says_so() -> None:
    # 0.5 in over the plate: 0.446 in at the likely least, 0.405 in with every part off at once.
    one = check(stack(pivot(pin_weld="0.43 in")), "stack/sleeve over the plate")
    assert one.verdict is Verdict.TIGHT
    assert "with every part off the wrong way at once it is 0.405 in" in one.change


def test_a_ball_larger_than_its_bore_is_refused() -> None:
    one = check(stack(pivot(ball_diameter="1.503 in")), "stack/ball in its sleeve")
    assert one.verdict is Verdict.SHORT
    assert "bore" in one.change


def test_a_sleeve_with_no_room_for_the_seam_s_bead_is_told() -> None:
    # 2-1/2 in less two walls of 3/16 leave 2-1/8 in.
    room = 2.125
    for outside, verdict in ((2.0, Verdict.OK), (2.1, Verdict.TIGHT), (2.13, Verdict.SHORT)):
        one = check(stack(pivot(sleeve_outside=f"{outside} in")), "stack/sleeve in its stile")
        assert one.available == pytest.approx(room * INCH)
        assert one.verdict is verdict


@pytest.mark.parametrize(
    "name",
    [
        "bottom_pin_length",
        "ball_diameter",
        "slug_length",
        "sleeve_length",
        "plug_hole",
        "plug_holes",
        "access_hole",
        "top_plate",
        "top_pin_length",
    ],
)
def test_a_size_that_is_not_given_is_asked_by_its_key(name: str) -> None:
    without: dict[str, Any] = {name: None}
    proved = stack(pivot(**without))
    one = check(proved, "stack/sizes")
    assert one.verdict is Verdict.ASK
    assert f"write {name} in the mount" in one.change
    assert all(c.verdict in (Verdict.OK, Verdict.ASK) for c in proved.checks)


def test_a_sleeve_that_is_not_given_is_told_flush() -> None:
    # 5 + 1.5 + 1 less the spacer's half inch.
    assert (
        'a sleeve of 7" ends flush' in check(stack(pivot(sleeve_length=None)), "stack/sizes").change
    )


def test_two_leaves_with_one_mount_are_asked_about_once() -> None:
    given = {key: value for key, value in PIVOT.items() if key != "sleeve_length"}
    left, right = mountings(job(given, pair=True))
    asked = [c for m in (left, right) for c in stack(m).checks if c.verdict is Verdict.ASK]
    assert [c.key for c in asked] == ["left/stack/sizes"]
    assert asked[0].subject == "the pivot parts of both leaves"


def test_a_leaf_on_hinges_has_no_stack() -> None:
    with pytest.raises(TypeError, match="hinges"):
        stack(barrels())


# ---------------------------------------------------------------- the floating sleeve


def test_the_fitting_s_travel_is_half_of_hole_less_what_goes_over_it() -> None:
    found = sleeve_float(pivot(), stack_of(pivot()))
    assert found is not None
    # (1.25 − 0.625)/2 (common practice, no source: a coupler is 5/8 in across).
    assert found.travel == pytest.approx(0.3125 * INCH)
    # Pin, ball, spacer and two holes: four of 1/32 and 0.001.
    assert found.spare == pytest.approx((0.3125 - 4 * CUT - BALL) * INCH)


def test_an_access_hole_must_reach_the_fitting_at_both_ends() -> None:
    # Likely off: √(4/32² + 0.001²) = 0.0625 in; at worst 0.126 in.
    for hole, verdict in ((0.95, Verdict.OK), (0.8, Verdict.TIGHT), (0.74, Verdict.SHORT)):
        one = check(stack(pivot(access_hole=f"{hole} in")), "stack/access hole")
        assert one.demand == pytest.approx(0.0625 * INCH, rel=1e-3)
        assert one.available == pytest.approx((hole - 0.625) / 2 * INCH)
        assert one.verdict is verdict
    small = check(stack(pivot(access_hole="0.6 in")), "stack/access hole")
    assert small.verdict is Verdict.SHORT
    assert small.ratio is None


@pytest.mark.parametrize("seed", range(cases(8, 80)))
def test_every_plug_hole_lands_on_the_sleeve_wherever_it_comes_to_rest(seed: int) -> None:
    rng = random.Random(seed)
    d = rng.choice([0.4375, 0.5625, 0.625])
    m = pivot(
        sleeve_length=f"{rng.uniform(4.0, 7.2):.3f} in",
        plug_hole=f"{d} in",
        plug_holes=rng.choice([2, 4, 6]),
    )
    made = stack_of(m)
    found = sleeve_float(m, made)
    assert found is not None
    assert made.ball_in is not None
    for row in found.plug_rows:
        for rest in (found.rest[0], found.rest[2]):
            assert max(rest, 0.0) <= row - d * INCH / 2 + 1e-9
            assert row + d * INCH / 2 <= rest + found.length + 1e-9
        clear_under = row + d * INCH / 2 <= made.ball_in.worst[0] + 1e-9
        clear_over = row - d * INCH / 2 >= made.ball_in.worst[1] + 1.5 * INCH - 1e-9
        assert clear_under or clear_over
    pitch = (4.0 if found.rows_apart else 2.0) * d * INCH
    rows = found.plug_rows
    assert all(b - a >= pitch - 1e-9 for a, b in itertools.pairwise(rows))


def test_rows_that_cannot_all_land_are_short_and_near_ones_tight() -> None:
    assert check(stack(pivot(plug_holes=8)), "stack/plug holes").verdict is Verdict.TIGHT
    one = check(stack(pivot(plug_holes=12, plug_hole="3/4 in")), "stack/plug holes")
    assert one.verdict is Verdict.SHORT
    assert one.demand == 6.0


def test_rows_spread_over_the_lowest_band_or_stand_at_their_pitch() -> None:
    assert plug_rows(((1.0, 5.0),), 3, 1.5) == pytest.approx((1.0, 3.0, 5.0))
    # Two bands: the second row half way between as low and as high as it can be.
    assert plug_rows(((1.0, 1.0), (3.0, 4.0)), 2, 1.0) == pytest.approx((1.0, 3.5))
    assert plug_rows(((1.0, 2.0),), 3, 1.5) == pytest.approx((1.5,))
    assert plug_rows((), 2, 1.0) == ()


def test_the_pin_is_as_deep_in_its_sleeve_wherever_that_rests() -> None:
    # A longer pin moves the sleeve up, and takes nothing from what is in it.
    short, long = (stack_of(pivot(bottom_pin_length=size)) for size in ("5 in", "5-1/2 in"))
    assert inches(short.bottom_pin) == pytest.approx(inches(long.bottom_pin))
    assert inches(long.hang)[0] - inches(short.hang)[0] == pytest.approx(0.5)


# ---------------------------------------------------------------- unseating


def test_heat_and_cold_move_a_steel_leaf_by_hand() -> None:
    moved = moves(pivot())
    # 96 in × 12e-6 × 60 °F in kelvin, up and down (EN 1993-1-1, 3.2.6(1)).
    assert moved.growth == pytest.approx(96 * INCH * 12e-6 * 60 / 1.8)
    assert moved.shrink == pytest.approx(moved.growth)


def test_both_pins_at_full_lift_and_full_drop_by_hand() -> None:
    m = pivot()
    states = {s.state: s for s in unseated(stack_of(m), moves(m))}
    hot = 96 * 12e-6 * 60 / 1.8

    def of(name: str) -> tuple[float, float, float]:
        s = states[name]
        assert s.bottom_pin is not None
        assert s.top_pin is not None
        return s.gap / INCH, s.bottom_pin / INCH, s.top_pin / INCH

    assert of("as hung") == pytest.approx((0.75, 4.5, 2.25))
    assert of("lifted until it meets what is over it") == pytest.approx((0.0, 3.75, 3.0), abs=1e-9)
    up = (0.75 + 0.125 + hot, 4.5, 2.25 - 0.125 - hot)
    assert of("head up, leaf at its coldest") == pytest.approx(up)
    lifted = (0.0, 4.5 - 0.875, 3.0)
    assert of("head up, and lifted until it meets it") == pytest.approx(lifted, abs=1e-9)
    down = (0.75 - 0.25 - hot, 4.5, 2.25 + 0.25 + hot)
    assert of("head down, leaf at its hottest") == pytest.approx(down)


def test_a_head_that_comes_down_must_not_land_on_the_leaf() -> None:
    # 0.75 in of gap under the plate less 0.038 in of growth.
    for drop, verdict in (("1/2 in", Verdict.OK), ("0.69 in", Verdict.TIGHT)):
        m = pivot(building={**BUILDING, "beam_drop": drop})
        assert check(stack(m), "stack/head down").verdict is verdict
    short = check(stack(pivot(building={**BUILDING, "beam_drop": "1-1/2 in"})), "stack/head down")
    assert short.verdict is Verdict.SHORT


def test_a_top_plate_that_takes_the_gap_is_asked_about_with_the_gap_to_write() -> None:
    plate = {"thickness": "1-1/8 in", "width": "6 in", "length": "9 in"}
    one = check(stack(pivot(top_plate=plate)), "stack/head down")
    assert one.verdict is Verdict.ASK
    # 1/4 in of drop, 0.038 of growth, 0.047 of tolerance and the plate's 1.125: 1.46 in.
    assert 'make top_gap 1 1/2" or more' in one.change


def test_a_head_that_comes_up_must_leave_the_top_pin_in() -> None:
    # 1 in kept, 1/8 in up, 0.038 in of cold: 1.163 in, of the pin less 3/4 in of gap.
    for length, verdict in (
        ("3 in", Verdict.OK),
        ("2 in", Verdict.TIGHT),
        ("1.9 in", Verdict.SHORT),
    ):
        one = check(stack(pivot(top_pin_length=length)), "stack/head up")
        assert one.demand / INCH == pytest.approx(1.1634, abs=1e-4)  # type: ignore[operator]
        assert one.verdict is verdict


def test_a_leaf_can_be_lifted_by_its_gap_and_the_pin_must_stay_in() -> None:
    # Of 4.3 in 1.8 in hold the pin; 1 in kept, 0.777 in of gap at its largest, 1/8 in of rise.
    one = check(stack(pivot(sleeve_length="4.9 in")), "stack/lifted")
    assert one.demand / INCH == pytest.approx(1.902, abs=1e-3)  # type: ignore[operator]
    assert one.verdict is Verdict.OK
    assert check(stack(pivot(sleeve_length="4.3 in")), "stack/lifted").verdict is Verdict.SHORT


@pytest.mark.parametrize("span", [None, "20 ft", "30 ft"])
def test_a_head_that_may_move_is_asked_with_what_the_stack_bears(span: str | None) -> None:
    building: dict[str, Any] = {k: v for k, v in BUILDING.items() if not k.startswith("beam")}
    if span is not None:
        building["beam_span"] = span
    one = check(stack(pivot(building=building)), "stack/head moves")
    assert one.verdict is Verdict.ASK
    assert "write beam_rise and beam_drop in [building]" in one.change
    # 0.74 in less √(1/32² + 0.02²) and 0.038 in of growth.
    assert "bears 0.664 in down" in one.change
    if span == "20 ft":
        # L/360 of 20 ft is 0.67 in (IBC Table 1604.3, floor members).
        assert one.demand == pytest.approx(240 / 360 * INCH)
        assert "would not bear that" in one.change
    if span is None:
        assert one.demand is None


def test_a_head_that_nobody_said_stays_still_makes_nothing_ok() -> None:
    building: dict[str, Any] = {k: v for k, v in BUILDING.items() if not k.startswith("beam")}
    said = keys(stack(pivot(building=building)))
    assert not {"stack/head down", "stack/head up", "stack/lifted"} & set(said)
    # What fails with the head still is told all the same.
    short = check(stack(pivot(building=building, sleeve_length="4.1 in")), "stack/lifted")
    assert short.verdict is Verdict.SHORT
    half = {**building, "beam_drop": "1/8 in"}
    assert "stack/head down" in keys(stack(pivot(building=half)))
    assert "stack/head up" not in keys(stack(pivot(building=half)))


def test_a_beam_as_said_is_not_asked_about() -> None:
    assert "stack/head moves" not in keys(stack(pivot()))


def test_grease_under_its_ball_lifts_a_leaf_at_a_low_pressure() -> None:
    # 1 in² of bore and 100 lbf: 100 psi (statics).
    bore = math.sqrt(4.0 / math.pi) * INCH
    assert grease_pressure(100.0 * 4.4482216, bore) == pytest.approx(100 * 6894.757, rel=1e-6)
    said = " ".join(stack(pivot()).cautions)
    assert "piston" in said
    assert "6,000 psi" in said
    assert "piston" not in " ".join(stack(pivot(grease_fitting=None)).cautions)


def test_the_mount_is_told_link_by_link() -> None:
    found = mounted(pivot())
    assert isinstance(found, LeafMount)
    names = [name for name, _ in found.links]
    assert {"vertical stack", "pin fits", "stops"} <= set(names)
    assert {"cut tolerance", "pin kept in"} <= {q.name for q in found.defaults}
    assert "vertical stack" not in [name for name, _ in mounted(barrels()).links]
