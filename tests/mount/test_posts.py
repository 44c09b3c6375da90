"""A gate's post and its footing, against statics worked by hand, published sizes and equilibrium.

Hand values are in pounds and inches. HSS 6 x 6 x 1/4 of A500 Gr B: I 28.6 in⁴, Z 11.2 in³,
19.02 lb/ft (AISC Shapes Database v16.0), 46 ksi. The pins stand 1.5 + 3 = 4.5 in off its middle.
"""

from __future__ import annotations

import dataclasses
import math
from typing import Any, Literal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leafwright.job.file import load_job
from leafwright.job.model import Filler
from leafwright.mount import Mounting
from leafwright.mount.footings import ground_of
from leafwright.mount.hinge_loads import HungCase, hung_cases
from leafwright.mount.post_forces import ANGLES, PostForces, Standing, post_forces, standing
from leafwright.mount.posts import leaning, post
from leafwright.pipeline import plan
from leafwright.proof.working import Lines
from leafwright.records import Verdict
from leafwright.units import read_length
from tests.mount.hinged import EXAMPLES, INCH, KSI, LB_IN, LBF, at_rest, check, gate, hung, resting

FOOT = 0.3048
PSF = LBF / FOOT**2


def stands(m: Mounting) -> Standing:
    assert m.job.post is not None
    return standing(m, m.job.post, m.steel.section(m.job.post.section, m.job.post.grade))


def at_ground(m: Mounting, carrier: str = "pivot 1") -> PostForces:
    cases = [c for c in hung_cases(m) if c.carrier == carrier]
    return post_forces(m, stands(m), cases, [0.0])


def row(found: PostForces, degrees: float) -> int:
    return next(i for i, a in enumerate(found.angles) if math.degrees(a) == pytest.approx(degrees))


# ---------------------------------------------------------------- statics


def test_hinges_stand_over_the_ground_at_the_posts_foot() -> None:
    """The yard gate's survey has BL as its zero: the leaf's bottom is its own height over it."""
    on = stands(hung(*at_rest()))
    under = gate().place.bottom.value
    assert on.heights == pytest.approx({"pivot 1": under + 8 * INCH, "pivot 2": under + 70 * INCH})
    assert on.out == pytest.approx(4.5 * INCH)
    right = hung(*at_rest(), base=gate("right"))
    foot = 0.11433160257437596  # BR over BL as the survey adjusted it: our own number
    assert stands(right).lowest == pytest.approx(under - foot + 8 * INCH, rel=1e-6)


def test_moment_at_the_ground_by_hand() -> None:
    """300 lb at hinges 62 in apart: 18 600 lb·in; the weight 4.5 in off: 400 × 4.5 = 1800.

    Down: 400 and the post's 7.5 ft × 19.02 = 142.7 lb.
    """
    found = at_ground(hung(*at_rest()))
    shut = row(found, 0.0)
    assert found.moment_in[shut] == pytest.approx(20400 * LB_IN, rel=1e-9)
    assert found.moment_out[shut] == found.shear_in[shut] == found.torsion[shut] == 0.0
    assert found.axial[shut] == pytest.approx(542.7 * LBF, rel=2e-3)


def test_an_opened_leaf_turns_its_forces_round_and_leaves_its_pins() -> None:
    found = at_ground(hung(*at_rest()))
    for degrees, along, across in ((45.0, 13152.2 + 1800.0, 13152.2), (90.0, 1800.0, 18600.0)):
        at = row(found, degrees)
        assert found.moment_in[at] == pytest.approx(along * LB_IN, rel=1e-5)
        assert found.moment_out[at] == pytest.approx(across * LB_IN, rel=1e-5)
        assert "leaf open" in found.words(at)
    assert "leaf shut" in found.words(row(found, 0.0))


def test_force_across_shears_bends_and_twists() -> None:
    """100 lb across at the upper hinge, 4.5 in off: 450 lb·in of twist below it, none above."""
    m = hung(*at_rest(pull=0.0, weight=0.0, across=100.0))
    on = stands(m)
    upper = on.heights["pivot 2"]
    found = post_forces(m, on, hung_cases(m)[:1], [0.0, upper, upper + 0.01])
    shut = [i for i, angle in enumerate(found.angles) if angle == 0.0]
    ground, at_hinge, above = shut
    assert found.torsion[ground] == pytest.approx(450 * LB_IN)
    assert found.shear_out[ground] == pytest.approx(100 * LBF)
    assert found.moment_out[ground] == pytest.approx(100 * LBF * upper)
    assert found.moment_out[at_hinge] == 0.0
    assert found.torsion[at_hinge] == pytest.approx(450 * LB_IN)
    assert found.torsion[above] == found.shear_out[above] == 0.0


def test_who_carries_the_weight_moves_nothing_at_the_ground() -> None:
    m = hung(*at_rest())
    one, other = at_ground(m), at_ground(m, "pivot 2")
    for name in ("axial", "moment_in", "moment_out", "torsion"):
        assert getattr(other, name) == pytest.approx(getattr(one, name))


@pytest.mark.parametrize("hand", ["left", "right"])
def test_real_leaf_turns_its_post_over_by_its_weight_at_its_centre(
    hand: Literal["left", "right"],
) -> None:
    """Equilibrium, pins free and bound alike: weight times its centre's distance from the post.

    Within what the frame moves the centre: members on their centre lines, infill on its edges.
    """
    m = gate(hand)
    on = stands(m)
    # As seen, the leaf's x runs to the right from its left edge.
    from_edge = m.leaf.centre[0] if hand == "left" else m.leaf.width - m.leaf.centre[0]
    by_hand = m.leaf.hung_mass * 9.80665 * (from_edge + 1.6875 * INCH + on.out)
    for case in (c for c in hung_cases(m) if c.situation.startswith("standing")):
        found = post_forces(m, on, [case], [0.0])
        shut = row(found, 0.0)
        assert found.moment_in[shut] == pytest.approx(by_hand, rel=0.01), case.situation
        assert found.moment_out[shut] == pytest.approx(0.0, abs=1e-6 * by_hand)


def test_bound_and_free_pins_load_the_ground_alike() -> None:
    """What holds a leaf in balance is the same moment, however the hinges share it."""
    m = hung(base=gate(), clearance="0 in", standoff="3.375 in")
    cases = {c.situation: c for c in hung_cases(m) if c.carrier == "pivot 1"}
    pairs = [(cases[s], c) for s in cases for t, c in cases.items() if t == f"{s}, clamped"]
    assert len(pairs) >= 2
    for free, bound in pairs:
        if free.situation.startswith("wind"):
            continue  # its nose takes another share
        a, b = (post_forces(m, stands(m), [case], [0.0]) for case in (free, bound))
        assert bound.share > 0.0
        assert b.moment_in == pytest.approx(a.moment_in, rel=1e-6)


@given(pull=st.floats(-500.0, 500.0), across=st.floats(-300.0, 300.0), weight=st.floats(0.0, 500.0))
def test_opening_a_leaf_turns_its_couple_and_changes_no_size(
    pull: float, across: float, weight: float
) -> None:
    loads = (
        resting("pivot 1", x=pull * LBF, y=weight * LBF),
        resting("pivot 2", x=-pull * LBF, z=across * LBF),
    )
    m = hung(*loads)
    found = post_forces(m, stands(m), hung_cases(m)[:1], [0.0])
    sizes = np.hypot(found.shear_in, found.shear_out)
    assert sizes == pytest.approx(np.full(len(ANGLES), abs(across) * LBF), abs=1e-6)
    assert found.axial == pytest.approx(np.full(len(ANGLES), found.axial[0]))


def test_wind_on_the_post_is_added_to_the_leafs() -> None:
    """60 N on each metre of 2.286 m: 137.2 N and 156.8 N·m beside what the hinge puts there."""
    m = hung(
        resting("pivot 1", situation="wind on face", z=100.0),
        resting("pivot 2", situation="wind on face"),
    )
    calm = dataclasses.replace(stands(m), wind=0.0)
    windy = dataclasses.replace(calm, wind=60.0)
    case = hung_cases(m)[:1]
    without, with_it = (post_forces(m, on, case, [0.0]) for on in (calm, windy))
    shut = row(with_it, 0.0)
    assert with_it.shear_out[shut] - without.shear_out[shut] == pytest.approx(60.0 * 2.286)
    assert with_it.moment_out[shut] - without.moment_out[shut] == pytest.approx(30.0 * 2.286**2)
    turned = row(with_it, 90.0)
    assert with_it.shear_in[turned] - without.shear_in[turned] == pytest.approx(60.0 * 2.286)
    assert with_it.moment_in[turned] - without.moment_in[turned] == pytest.approx(30.0 * 2.286**2)


def test_a_leaf_that_nothing_keeps_open_takes_wind_shut_only() -> None:
    loads = [
        resting("pivot 1", situation="wind on face", z=50.0),
        resting("pivot 2", situation="wind on face"),
    ]
    m = hung(*loads)
    free = m.table.model_copy(update={"hold": m.table.hold.model_copy(update={"open": "nothing"})})
    for table, count in ((m.table, len(ANGLES)), (free, 1)):
        held = dataclasses.replace(m, table=table)
        found = post_forces(held, stands(held), hung_cases(held)[:1], [0.0])
        assert len(found.angles) == count


# ---------------------------------------------------------------- strength


def test_strength_by_hand() -> None:
    """Open 45° at the ground: (14 952 + 13 152)/(46 × 11.2/1.67 = 308.5 k·in) = 0.0911.

    And half of 543 lb over its strength as a column, 2.1 × 90/2.34 = 80.8 slender, about 110 kip:
    0.0025 more.
    """
    found = check(post(hung(*at_rest())), "post/strength")
    assert found.ratio == pytest.approx(0.0936, rel=0.02)
    assert "leaf open 45°, at the ground" in found.case
    assert "H1.1" in found.source.clause
    assert found.verdict is Verdict.OK


def test_shear_and_twist_by_hand() -> None:
    """1000 lb across: twist 4.5 k·in of C 12.3... from the check's own clause, shear of 2 h t."""
    m = hung(*at_rest(pull=0.0, weight=0.0, across=1000.0))
    found = check(post(m), "post/shear")
    # t 0.2325, h = 6 − 3 t = 5.3025: 0.6 × 46 × 2 × 5.3025 × 0.2325/1.67 = 40.75 kip;
    # C = 2 (6 − t)² t − 4.5 (4 − π) t³ = 15.42 in³: 0.6 × 46 × 15.42/1.67 = 254.8 k·in.
    assert found.ratio == pytest.approx(1.0 / 40.75 + 4.5 / 254.8, rel=0.01)


def test_a_post_too_weak_is_short_and_says_what_would_mend_it() -> None:
    found = check(
        post(hung(*at_rest(2000.0, 900.0), post={"section": "HSS 3 x 3 x 1/8"})), "post/strength"
    )
    assert found.verdict is Verdict.SHORT
    assert "larger tube" in found.change


def test_steel_that_promises_nothing_is_asked() -> None:
    found = check(
        post(hung(*at_rest(), post={"section": "mechanical tube 4 x 4 x 0.188 in"})),
        "post/strength",
    )
    assert found.verdict is Verdict.ASK
    assert "mill certificate" in found.change
    assert found.ratio is not None


def test_wall_of_a_thin_post_is_weaker_than_that_of_a_thick_one() -> None:
    thin, thick = (
        check(post(hung(*at_rest(), post={"section": f"HSS 6 x 6 x {wall}"})), "post/wall")
        for wall in ("3/16", "3/8")
    )
    assert thin.ratio is not None
    assert thick.ratio is not None
    assert thin.ratio > 2.0 * thick.ratio
    assert check(post(hung(*at_rest(), pin_diameter=None)), "post/wall").verdict is Verdict.ASK


@pytest.mark.parametrize(("height", "verdict"), [("90 in", Verdict.OK), ("80 in", Verdict.SHORT)])
def test_post_must_stand_over_its_highest_hinge(height: str, verdict: Verdict) -> None:
    found = check(post(hung(*at_rest(), post={"height": height})), "post/height")
    assert found.verdict is verdict
    assert found.demand == pytest.approx(gate().place.bottom.value + 74 * INCH)


# ---------------------------------------------------------------- lean


def test_lean_by_hand() -> None:
    """At the top of 90 in, by AISC Manual Table 3-23 case 21: P a² (3 L − a)/(6 EI), each hinge.

    And the weight's moment at the upper hinge: M a (2 L − a)/(2 EI).
    """
    m = hung(*at_rest())
    on = stands(m)
    a_1, a_2 = (on.heights[p] / INCH for p in ("pivot 1", "pivot 2"))
    EI = 29000e3 * on.section.properties().inertia_v / INCH**4
    L = 90.0
    by_hand = (
        300 * (a_2**2 * (3 * L - a_2) - a_1**2 * (3 * L - a_1)) / 6 / EI
        + 1800 * a_2 * (2 * L - a_2) / 2 / EI
    )
    found = check(post(m), "post/lean")
    assert found.demand == pytest.approx(by_hand * INCH, rel=1e-9)
    assert found.available == pytest.approx(INCH / 8)
    assert on.section.properties().inertia_v == pytest.approx(28.6 * INCH**4, rel=0.005)


def test_lean_costs_drop_and_shift_at_the_nose() -> None:
    m = hung(*at_rest())
    on, lines = stands(m), Lines()
    pushes = [
        (on.heights["pivot 1"], -300 * LBF, 0.0),
        (on.heights["pivot 2"], 300 * LBF, 400 * LBF * on.out),
    ]
    low, high = (leaning(on.section, pushes, y, lines) for y in sorted(on.heights.values()))
    tilt = (high - low) / (62 * INCH)
    drop = tilt * (gate().leaf.width - gate().place.axis.value)
    said = post(m).words[0]
    assert f"{drop / INCH:.3f} in" in said
    assert f"{tilt * gate().leaf.height / INCH:.3f} in" in said


def test_lean_limit_is_the_makers_or_a_listed_default() -> None:
    plain = post(hung(*at_rest()))
    assert [q.key for q in plain.defaults] == ["mount/post lean limit", "mount/concrete weight"]
    limits = gate().job.limits.model_validate({"post_lean": "1/4 in"})
    wished = post(hung(*at_rest(), job={"limits": limits}))
    assert check(wished, "post/lean").available == pytest.approx(INCH / 4)
    assert "mount/post lean limit" not in {q.key for q in wished.defaults}


def test_a_push_leans_a_post_alike_at_every_height_by_mohr() -> None:
    """Slope and lean by summing the moments' curvature up the post: Mohr, in small steps."""
    m = hung(*at_rest())
    on = stands(m)
    EI = 29000 * KSI * on.section.properties().inertia_v
    pushes = [(0.5, -700.0, 40.0), (1.7, 900.0, 150.0)]
    s = (np.arange(20000) + 0.5) / 20000 * 2.2
    moment = sum(np.where(s < at, push * (at - s) + turn, 0.0) for at, push, turn in pushes)
    for y in (0.3, 0.5, 1.0, 1.7, 2.2):
        by_sum = float(np.sum(np.where(s < y, moment * (y - s), 0.0)) * 2.2 / 20000 / EI)
        assert leaning(on.section, pushes, y, Lines()) == pytest.approx(by_sum, rel=1e-4)


# ---------------------------------------------------------------- footing


@pytest.mark.parametrize(
    ("text", "pascals", "each_metre"),
    [
        ("150 psf", 150 * PSF, 150 * PSF / FOOT),
        ("1 psi", 6894.757, 6894.757 / FOOT),
        ("150 lb/ft2", 150 * PSF, 150 * PSF / FOOT),
        ("23 kPa", 23e3, 23e3),
        ("0.023 N/mm2", 23e3, 23e3),
    ],
)
def test_ground_is_read_by_the_foot_or_by_the_metre(
    text: str, pascals: float, each_metre: float
) -> None:
    ground = ground_of(text, pascals)
    assert ground.pressure / ground.at == pytest.approx(each_metre)
    assert ("foot" in ground.words) == (each_metre != pascals)


def test_footing_by_hand() -> None:
    """20 400 lb·in = 1700 lb·ft and no push; S_1 = 150 × 5/3 = 250 psf, b 2 ft:

    A h = 2.34 × 1700/500 = 7.956 ft², d = 0.5 √(4.36 × 7.956) = 2.945 ft.
    """
    found = check(post(hung(*at_rest())), "post/footing")
    assert found.demand == pytest.approx(2.945 * FOOT, rel=1e-3)
    assert found.available == pytest.approx(5 * FOOT)
    assert found.verdict is Verdict.OK
    assert found.source.document == "International Building Code"
    assert "1807.3.2.1" in found.source.clause


def test_footing_too_shallow_is_told_about_how_deep() -> None:
    found = check(post(hung(*at_rest(1500.0), post={"footing_depth": "3 ft"})), "post/footing")
    assert found.verdict is Verdict.SHORT
    assert "deep at this diameter, by this rule; ask an engineer" in found.change


def test_unknown_ground_is_asked_with_what_each_soil_would_need() -> None:
    """IBC Table 1806.2: clay 100, sand 150, gravel 200 psf a foot, softest deepest."""
    found = check(post(hung(*at_rest(), post={"soil_pressure": None})), "post/footing")
    assert found.verdict is Verdict.ASK
    for words in ("clay or silt (100 psf a foot)", "sand (150 psf a foot)", "gravel (200 psf a"):
        assert words in found.change
    assert "an engineer answers" in found.change
    assert "1700 lb·ft" in found.rule


@pytest.mark.parametrize("key", ["footing_diameter", "footing_depth"])
def test_what_a_footing_lacks_is_asked(key: str) -> None:
    found = check(post(hung(*at_rest(), post={key: None})), "post/footing")
    assert found.verdict is Verdict.ASK
    assert f"give {key} in [post]" in found.change


def test_footing_is_told_what_its_weight_alone_holds() -> None:
    """2356 lb of concrete and 543 on it: 2899 lb·ft over 1700: all; of 12 in and 1 ft, 6 %."""
    assert "2356 lbf of concrete" in post(hung(*at_rest())).words[2]
    assert "all of that" in post(hung(*at_rest())).words[2]
    small = post(hung(*at_rest(), post={"footing_diameter": "12 in", "footing_depth": "1 ft"}))
    # 117.8 + 542.7 lb, half a foot: 330 of 1700 lb·ft.
    assert "19% of that" in small.words[2]


def test_cautions_defer_to_an_engineer_and_the_frost() -> None:
    said = " ".join(post(hung(*at_rest())).cautions)
    assert "licensed engineer" in said
    assert "frost depth" in said


def test_footing_is_of_loads_as_they_are_by_either_method() -> None:
    asd, lrfd = post(gate()), post(gate(method="LRFD"))
    a, b = (check(found, "post/footing").demand for found in (asd, lrfd))
    assert a is not None
    # Bound pins count by ASD only: what they change is within a hundredth.
    assert b == pytest.approx(a, rel=0.01)


# ---------------------------------------------------------------- without a post


def without_post(jamb: dict[str, Any] | None = None) -> Any:
    m = hung(*at_rest())
    doorway = m.job.doorway.model_copy(
        update={"jamb": None if jamb is None else Filler.model_validate(jamb)}
    )
    job = m.job.model_copy(update={"post": None, "doorway": doorway})
    return post(dataclasses.replace(m, job=job))


def test_without_a_post_it_is_asked_what_holds_the_hinges() -> None:
    (found,) = without_post().checks
    assert found.verdict is Verdict.ASK
    assert found.demand == pytest.approx(300 * LBF)
    assert "300 lbf" in found.change
    assert "up to 400 lbf" in found.change
    assert "[post]" in found.change


def test_a_jamb_post_is_asked_by_its_name() -> None:
    (found,) = without_post({"section": "HSS 4 x 4 x 1/4"}).checks
    assert found.verdict is Verdict.ASK
    assert "jamb post (HSS 4 x 4 x 1/4)" in found.subject
    assert "between its fixings" in found.change


def test_a_section_that_is_not_there_is_asked_and_never_raised() -> None:
    m = hung(*at_rest(), post={"grade": "A36"})
    (found,) = post(m).checks
    assert found.verdict is Verdict.ASK
    assert "A36" in found.change


# ---------------------------------------------------------------- always


def ratios(m: Mounting) -> dict[str, float]:
    return {c.key: c.ratio for c in post(m).checks if c.ratio is not None}


@given(
    pull=st.floats(50.0, 800.0),
    weight=st.floats(50.0, 800.0),
    across=st.floats(0.0, 300.0),
    more=st.floats(1.01, 2.0),
)
def test_more_load_never_leaves_more_to_spare(
    pull: float, weight: float, across: float, more: float
) -> None:
    light = ratios(hung(*at_rest(pull, weight, across)))
    heavy = ratios(hung(*at_rest(more * pull, more * weight, more * across)))
    assert light.keys() == heavy.keys()
    assert all(heavy[key] >= light[key] * (1.0 - 1e-12) for key in light)


@pytest.mark.parametrize(
    "stronger",
    [
        {"section": "HSS 6 x 6 x 3/8"},
        {"grade": "A500 Gr C"},
        {"footing_diameter": "30 in"},
        {"footing_depth": "6 ft"},
        {"soil_pressure": "200 psf"},
    ],
)
def test_a_stronger_post_never_has_less_to_spare(stronger: dict[str, Any]) -> None:
    loads = at_rest(400.0, 500.0, 150.0)
    plain, better = ratios(hung(*loads)), ratios(hung(*loads, post=stronger))
    # A thicker post weighs more, on its footing: that is not in the pole formula.
    assert all(better[key] <= plain[key] * (1.0 + 1e-12) for key in plain)
    assert better != plain


def test_every_check_says_how_it_came_about() -> None:
    for found in post(gate()).checks:
        assert found.rule
        assert found.source.clause
        assert found.key.startswith("left/post/")
        assert found.demand is not None


def test_case_names_are_plain() -> None:
    said: list[HungCase] = list(hung_cases(gate()))
    assert all("pivot" not in c.words and "clamped" not in c.words for c in said)


def test_a_solid_post_is_asked_about_its_twist() -> None:
    proved = post(hung(*at_rest(), post={"section": "round bar 4 in"}))
    for tail in ("post/strength", "post/shear"):
        one = check(proved, tail)
        assert one.verdict is Verdict.ASK
        assert "of twist on solid steel" in one.change


def test_a_post_under_more_than_it_buckles_at_is_short_without_bound() -> None:
    """Where growth has no bound and nothing bends the post one way, that is no fault of ours."""
    job = load_job(EXAMPLES / "yard-gate.toml").job
    sheet = job.leaf[0].infill[0].model_copy(update={"thickness": read_length("1000 m")})
    leaves = tuple(leaf.model_copy(update={"infill": (sheet,)}) for leaf in job.leaf)
    found = plan(job.model_copy(update={"leaf": leaves}), upto="shop").checks
    bent = [c for c in found if c.key.endswith("post/strength")]
    assert len(bent) == 2 and all(c.verdict is Verdict.SHORT for c in bent)
    assert all(math.isinf(c.demand or 0.0) for c in bent)
