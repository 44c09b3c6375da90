"""Anchors of the floor plate: statics and strengths by hand, what is asked, what always holds.

Hand values use ACI 318-19, chapter 17, and EN 1992-4:2018 as quoted in `tests/published`; where a
factor is from memory it is marked.
"""

from __future__ import annotations

import itertools
import math
import random
from typing import Any

import pytest

from leafwright import plan, read_job
from leafwright.handbook.aci318 import Kind
from leafwright.handbook.aci318.bearing import concrete_bearing, phi_bearing
from leafwright.handbook.aisc360 import Method
from leafwright.mount.anchors import floor_anchors
from leafwright.mount.plate_loads import PlateLoad, laid_out, states
from leafwright.proof.anchor_data import anchor_data, european, kind_of
from leafwright.records import Check, Verdict
from tests.mount.fixed import ANCHOR, fixed
from tests.mount.pivots import EXAMPLES, INCH, KSI, LBF, check
from tests.mount.proved import assert_honest, load
from tests.proof.proofs import job
from tests.sizes import cases

PSI = KSI / 1000.0
# 500 lbf sideways, 1000 lbf down: with 4 in of pin, the sleeve 2 in about it, and 1/2 in of plate,
# 3.5 in over the slab. By ASD 1.6 × 500 = 800 lbf, 2800 lb·in, and 900 lbf that hold down.
PUSHED = load("pivot 1", x=500 * LBF, y=1000 * LBF)
ORDER = {Verdict.OK: 0, Verdict.TIGHT: 1, Verdict.ASK: 2, Verdict.SHORT: 3}


def found(m: Any, tail: str) -> Check:
    return check(floor_anchors(m), f"anchors/{tail}")


def near(value: float) -> Any:
    return pytest.approx(value, rel=2e-3)


# ---------------------------------------------------------------- concrete under a plate


def test_bearing_of_a_base_plate_by_a_published_example() -> None:
    """AISC Design Examples, J.7 (13.0; read): 3 ksi, 22 in square on 24 in: 0.6 P_p = 808 kips."""
    P_p = concrete_bearing((22 * INCH) ** 2, 3 * KSI, A_2=(24 * INCH) ** 2)
    assert 0.6 * P_p / (1000 * LBF) == pytest.approx(808, abs=0.5)
    # 1.7 f'c A_1 is the most (AISC 360, Eq. J8-2, which is the same).
    most = concrete_bearing(1.0, 3 * KSI, A_2=100.0)
    assert most == pytest.approx(1.7 * 3 * KSI)
    assert phi_bearing() == 0.65  # ACI 318-19, Table 21.2.1(d), from memory
    with pytest.raises(ValueError, match="A_2"):
        concrete_bearing(1.0, 3 * KSI, A_2=0.5)


# ---------------------------------------------------------------- layout and statics


def test_anchors_sit_one_and_a_half_diameters_from_the_plates_edge() -> None:
    """Common practice, no source: 8 by 6 in, 1/2 in anchors: 6-1/2 by 4-1/2 in."""
    made = laid_out("x/anchors", 4, 0.5 * INCH, (8 * INCH, 6 * INCH), 1.25 * INCH)
    assert not isinstance(made, str)
    assert made.along == pytest.approx(6.5 * INCH)
    assert made.across == pytest.approx(4.5 * INCH)
    assert len(set(made.points)) == 4
    assert {q.kind for q in made.defaults} == {"default"}
    six = laid_out("x/a", 6, 0.5 * INCH, (8 * INCH, 6 * INCH), 0.02, along=3 * INCH)
    assert not isinstance(six, str)
    assert six.columns == pytest.approx((-3 * INCH, 0.0, 3 * INCH))
    assert len(six.rows) == 2


@pytest.mark.parametrize(
    ("number", "along"), [(3, None), (5, None), (4, 8 * INCH), (4, 0.0), (6, 4.2 * INCH)]
)
def test_a_pattern_that_does_not_go_into_the_plate_says_so(
    number: int, along: float | None
) -> None:
    made = laid_out("x/a", number, 0.5 * INCH, (8 * INCH, 6 * INCH), 0.02, along=along)
    assert isinstance(made, str)


def test_pulls_by_statics() -> None:
    """Tipped across about the far row, 2-1/4 in out: (2800 − 900 × 2.25)/4.5 = 172.2 lbf on two."""
    made = laid_out("x/a", 4, 0.5 * INCH, (8 * INCH, 6 * INCH), 1.25 * INCH)
    assert not isinstance(made, str)
    given = PlateLoad("c", 800 * LBF, 2800 * LBF * INCH, 900 * LBF, 1600 * LBF)
    across = next(s for s in states(made, [given]) if s.toward == pytest.approx(math.pi / 2))
    pulls = dict(zip(made.points, across.tension, strict=True))
    for (_, y), pull in pulls.items():
        assert pull / LBF == pytest.approx(86.1 if y < 0 else 0.0, abs=0.1)
    # Along, 2800/900 = 3.11 in lies within the 3-1/4 in to the far row: the weight holds it down.
    along = next(s for s in states(made, [given]) if s.toward == 0.0)
    assert along.most == 0.0


def test_a_load_that_another_outdoes_changes_nothing() -> None:
    made = laid_out("x/a", 4, 0.5 * INCH, (8 * INCH, 6 * INCH), 1.25 * INCH)
    assert not isinstance(made, str)
    hard = PlateLoad("hard", 800.0, 300.0, 100.0, 900.0)
    mild = PlateLoad("mild", 700.0, 300.0, 100.0, 900.0)
    assert states(made, [mild, hard]) == states(made, [hard]) == states(made, [hard, hard])


# ---------------------------------------------------------------- ACI 318-19 by hand


def test_pull_on_the_hardest_anchor_is_at_strength_level() -> None:
    m = fixed(PUSHED, building={"slab_edge": "40 in"})
    pull = found(m, "steel pulled")
    # The greatest of the ways is not less than that across, 86.1 lbf.
    assert pull.demand is not None
    assert pull.demand / LBF >= 86.0
    # Table 17.5.3(a), brittle: 0.65 × 18,000.
    assert pull.available == near(11_700 * LBF)
    assert "1.6" in pull.rule
    # Table 17.5.3(c), category 1: 0.65 × 3,000.
    assert found(m, "pull-out").available == near(1950 * LBF)


def test_push_across_is_shared_and_held_by_steel_edge_and_pry_out() -> None:
    m = fixed(PUSHED)
    steel = found(m, "steel pushed")
    assert steel.demand == near(200 * LBF)
    assert steel.available == near(0.60 * 7000 * LBF)  # Table 17.5.3(a), brittle, in shear
    # 17 √3000 2.5^1.5 = 3,681 lb; all four: (6.5 + 7.5)(4.5 + 7.5)/56.25 = 2.987; k_cp = 2; φ 0.70.
    assert found(m, "pry-out").available == near(0.70 * 2.0 * 2.9867 * 3680.6 * LBF)


def test_breakout_of_two_that_pull() -> None:
    """Two in a row 6-1/2 in apart, tipped across: (6.5 + 7.5) 7.5/56.25 = 1.867 of one's 3,681 lb.

    The plate tips about the pin's foot, 3/4 + 1/2 in out: (1.6 M − 0.9 W 1.25)/1.25 on the two.
    """
    m = fixed(PUSHED, anchor={"per_plate": 2, "spacing_along": "6.5 in"})
    broken = found(m, "breakout")
    assert broken.demand == near((2800 - 900 * 1.25) / 1.25 * LBF)
    assert broken.available == near(0.65 * 1.8667 * 3680.6 * LBF)


def test_edge_in_shear_at_a_corner() -> None:
    """c_a1 = c_a2 = 5 in, rows 4.5 in: by ACI 318-19, 17.7.2, as in Guide 25, worked by hand."""
    m = fixed(PUSHED, anchor={"edge_distance": "5 in"})
    # l_e = 2.5 in; 7 (2.5/0.5)^0.2 √0.5 = 6.829 < 9; V_b = 6.829 √3000 5^1.5 = 4,182 lb.
    V_b = 7 * (2.5 / 0.5) ** 0.2 * math.sqrt(0.5) * math.sqrt(3000) * 5**1.5
    # (5 + 4.5 + 7.5) × 6 in thick over 4.5 × 25; ψ_ed = 0.7 + 0.3 × 5/7.5; ψ_h = √(7.5/6).
    V_cbg = 17.0 * 6.0 / 112.5 * 0.9 * math.sqrt(7.5 / 6.0) * V_b
    edge = found(m, "edge pushed off")
    assert edge.available == near(0.70 * V_cbg * LBF)
    assert edge.demand == near(800 * LBF)


def test_limits_of_spacing_edge_and_thickness() -> None:
    m = fixed(PUSHED, anchor={"edge_distance": "3.5 in"})
    # Tables 17.9.2(a) and (b): 6 d = 3 in each; 17.9.4: the greater of 4 and 2 in of a 6 in slab.
    for tail, demand, has in (
        ("spacing", 3.0, 4.5),
        ("edge distance", 3.0, 3.5),
        ("thickness", 2.5, 4.0),
    ):
        limit = found(m, tail)
        assert limit.demand == pytest.approx(demand * INCH), tail
        assert limit.available == pytest.approx(has * INCH), tail
        assert limit.verdict is Verdict.OK, tail
    close = fixed(PUSHED, anchor={"edge_distance": "2.5 in", "spacing_across": "2.5 in"})
    assert found(close, "edge distance").verdict is Verdict.SHORT
    assert found(close, "spacing").verdict is Verdict.SHORT


def test_just_as_far_as_the_least_is_far_enough() -> None:
    m = fixed(PUSHED, anchor={"edge_distance": "3 in", "spacing_across": "3 in"})
    assert found(m, "edge distance").verdict is Verdict.OK
    assert found(m, "spacing").verdict is Verdict.OK


def test_anchors_that_are_not_in_the_slab_are_short() -> None:
    off = floor_anchors(fixed(PUSHED, building={"slab_edge": "3 in"})).checks
    assert [c.verdict for c in off] == [Verdict.SHORT]


@pytest.mark.parametrize(("V_sa", "joined"), [("4500 lbf", True), ("30000 lbf", False)])
def test_pull_and_push_together(V_sa: str, joined: bool) -> None:
    """17.8: the sum over 1.2 where both pass 0.2, else the greater; one anchor takes both."""
    m = fixed(PUSHED, anchor={"per_plate": 1, "steel_shear": V_sa, "edge_distance": "30 in"})
    pulls = [found(m, tail).ratio or 0.0 for tail in ("steel pulled", "pull-out", "breakout")]
    pushes = [found(m, t).ratio or 0.0 for t in ("steel pushed", "pry-out", "edge pushed off")]
    N, V = max(pulls), max(pushes)
    assert N > 0.2
    assert (V > 0.2) is joined
    assert found(m, "together").ratio == near((N + V) / 1.2 if joined else max(N, V))


def test_category_not_given_is_the_worst_and_uncracked_concrete_holds_more() -> None:
    plain, none = fixed(PUSHED), fixed(PUSHED, anchor={"category": None})
    assert found(none, "pull-out").available == near(0.45 * 3000 * LBF)  # Table 17.5.3(c)
    whole = fixed(PUSHED, anchor={"cracked": "no"})
    # ψ_c,N = 1.4 (17.6.2.5.1); far from an edge ψ_cp,N = 1.
    ratio = (found(whole, "breakout").available or 0.0) / (found(plain, "breakout").available or 1)
    assert ratio == pytest.approx(1.4, rel=1e-6)


def test_asd_and_lrfd_ask_alike_of_the_same_leaf() -> None:
    """The ASD job's 1.6 L is what an LRFD job's own factor has put in (ASCE/SEI 7-22, 2.3.1)."""
    asd = fixed(PUSHED)
    lrfd = fixed(load("pivot 1", x=800 * LBF, y=1400 * LBF), method=Method.LRFD)
    for tail in ("steel pushed", "steel pulled"):
        assert found(asd, tail).demand == near(found(lrfd, tail).demand or 0.0)
    wind = fixed(load("pivot 1", situation="wind on face", x=480 * LBF, y=1000 * LBF))
    # 0.6 W comes to 1.0 W: 480/0.6 = 800.
    assert found(wind, "steel pushed").demand == near(200 * LBF)


def test_bearing_of_the_plate() -> None:
    """No push: 1.6 × 1000 lbf on the pin's foot, 1.5 + 2 × 1/2 in square, 0.65 × 0.85 f'c."""
    m = fixed(load("pivot 1", y=1000 * LBF))
    bears = found(m, "bearing")
    assert bears.demand == near(1600 * LBF)
    assert bears.available == near(0.65 * 0.85 * 3000 * 2.5**2 * LBF)


def test_prying_wants_a_thick_plate_where_anchors_pull() -> None:
    m = fixed(load("pivot 1", x=2000 * LBF, y=100 * LBF))
    pries = found(m, "prying")
    T = found(m, "pull-out").demand or 0.0
    # AISC Manual, Eq. 9-30a: √(4 T b'/(φ p F_u)); b from the anchor to the pin's face.
    b = math.hypot(3.25, 2.25) - 0.75
    p = min(4.5, 2 * b, b + 0.75)
    t_c = math.sqrt(4 * T / LBF * (b - 0.25) / (0.9 * p * 58_000))
    assert pries.demand == near(t_c * INCH)
    assert pries.available == pytest.approx(0.5 * INCH)


# ---------------------------------------------------------------- a European job


def test_a_european_job_goes_by_en_1992_4() -> None:
    """Worked by hand from EN 1992-4:2018, 7.2, in N, mm and MPa."""
    m = fixed(PUSHED, country="DE", building={"concrete_strength": "25 MPa", "slab_edge": "2 m"})
    assert {c.source.document for c in floor_anchors(m).checks if "pulled" in c.key} == {
        "EN 1992-4:2018"
    }
    # Table 4.1 for class 4.6: γ_Ms = 1.2/0.6 = 2.0 in tension, 1/0.6 in shear; γ_Mc = 1.5.
    assert found(m, "steel pulled").available == near(18_000 * LBF / 2.0)
    assert found(m, "steel pushed").available == near(7000 * LBF * 0.6)
    assert found(m, "pull-out").available == near(3000 * LBF / 1.5)
    # k_1 7.7, h_ef 63.5 mm: N0 = 7.7 √25 63.5^1.5 = 19,481 N; ψ_re = 0.5 + 63.5/200 = 0.8175;
    # all four: (165.1 + 190.5)(114.3 + 190.5)/190.5² = 2.987; k_8 = 1.
    N0 = 7.7 * 5.0 * 63.5**1.5
    area = (165.1 + 190.5) * (114.3 + 190.5) / 190.5**2
    assert found(m, "pry-out").available == near(area * N0 * 0.8175 / 1.5)
    # Loads by EN 1990: 1.5 × 500 lbf.
    assert found(m, "steel pushed").demand == near(1.5 * 500 / 4 * LBF)


@pytest.mark.parametrize(
    ("country", "is_one"), [("US", False), ("CA", False), ("EU", True), ("de", True), ("UK", True)]
)
def test_where_a_job_is_european(country: str, is_one: bool) -> None:
    assert european(job(basis={"country": country})) is is_one


# ---------------------------------------------------------------- what is asked


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("screw", Kind.SCREW),
        ("concrete screw anchor", Kind.SCREW),
        ("wedge", Kind.TORQUE_CONTROLLED),
        ("expansion", Kind.TORQUE_CONTROLLED),
        ("drop-in", Kind.DISPLACEMENT_CONTROLLED),
        ("Epoxy and rod", Kind.ADHESIVE),
        ("undercut", Kind.UNDERCUT),
        ("cast-in headed bolt", Kind.HEADED_BOLT),
        ("headed stud", Kind.HEADED_STUD),
        ("nail", None),
        ("unknown", None),
    ],
)
def test_kinds_by_a_makers_words(words: str, kind: Kind | None) -> None:
    assert kind_of(words) is kind


@pytest.mark.parametrize(
    ("anchor", "building", "word"),
    [
        ({"report": None}, {}, "report"),
        ({"effective_embedment": None}, {}, "effective_embedment"),
        ({"pullout": None}, {}, "pullout"),
        ({"steel_tension": None}, {}, "steel_tension"),
        ({"steel_shear": None}, {}, "steel_shear"),
        ({"kind": "nail"}, {}, "'nail'"),
        ({"size": None}, {}, "size"),
        ({"kind": "epoxy"}, {}, "bond"),
        ({}, {"concrete_strength": None}, "concrete_strength"),
        ({}, {"slab_thickness": None}, "slab_thickness"),
        ({}, {"slab_edge": None}, "slab_edge"),
    ],
)
def test_what_is_not_known_is_asked_with_what_each_must_hold(
    anchor: dict[str, Any], building: dict[str, Any], word: str
) -> None:
    m = fixed(PUSHED, anchor=anchor, building=building)
    asked = check(floor_anchors(m), "anchors")
    assert asked.verdict is Verdict.ASK
    assert asked.demand is not None
    assert asked.demand > 0.0
    assert word in asked.change
    assert "lbf of pull and 200 lbf across" in asked.change
    assert anchor_data(m.job).missing


def test_everything_known_leaves_no_question() -> None:
    keys = {c.key for c in floor_anchors(fixed(PUSHED)).checks}
    assert "left/anchors" not in keys
    assert all(c.verdict is not Verdict.ASK for c in floor_anchors(fixed(PUSHED)).checks)


def test_depth_of_the_hole_is_never_taken_for_the_embedment() -> None:
    tails = {
        c.key for c in floor_anchors(fixed(PUSHED, anchor={"effective_embedment": None})).checks
    }
    assert not any("breakout" in key or "pry-out" in key for key in tails)


def test_without_a_plate_or_a_pin_it_is_asked_what_they_are() -> None:
    none = floor_anchors(fixed(PUSHED, plate=None)).checks
    assert [c.verdict for c in none] == [Verdict.ASK]
    assert none[0].demand is not None
    short = check(floor_anchors(fixed(PUSHED, bottom_pin_length=None)), "anchors")
    assert "bottom_pin_length" in short.change
    odd = floor_anchors(fixed(PUSHED, anchor={"per_plate": 3})).checks
    assert "2, 4 or 6" in odd[0].change


# ---------------------------------------------------------------- through the file


def boathouse(anchor: str) -> Any:
    text = (EXAMPLES / "boathouse.toml").read_text(encoding="utf-8")
    before = 'anchor = { kind = "screw", size = "1/2 in", embedment = "3-1/4 in", per_plate = 4,'
    before += ' spacing_along = "7 in", spacing_across = "4 in" }'
    assert before in text
    return plan(read_job(text.replace(before, f"anchor = {{ {anchor} }}")), upto="proof")


def as_toml(**changed: Any) -> str:
    rows = {key: v for key, v in {**ANCHOR, **changed}.items() if v is not None}
    return ", ".join(f"{k} = {v if isinstance(v, int) else repr(v)}" for k, v in rows.items())


def test_an_anchor_changed_in_the_file_changes_the_verdict() -> None:
    said = {c.key: c for c in boathouse(as_toml()).checks}
    assert "building/anchors" not in said
    assert said["left/anchors/pull-out"].verdict is Verdict.OK
    weak = {c.key: c for c in boathouse(as_toml(pullout="900 lbf")).checks}
    assert weak["left/anchors/pull-out"].verdict is Verdict.SHORT
    unsaid = {c.key: c for c in boathouse(as_toml(pullout=None)).checks}
    assert unsaid["left/anchors"].verdict is Verdict.ASK
    assert unsaid["building/anchors"].verdict is Verdict.ASK


def test_short_anchors_keep_the_saw_still() -> None:
    stopped = {stop.key for stop in boathouse(as_toml(pullout="900 lbf")).stops}
    assert "left/anchors/pull-out" in stopped
    assert "left/anchors/pull-out" not in {stop.key for stop in boathouse(as_toml()).stops}


def test_an_engineers_answer_closes_the_question_for_every_leaf() -> None:
    text = (EXAMPLES / "boathouse.toml").read_text(encoding="utf-8")
    answer = (
        '\n[[answer]]\nabout = "building/anchors"\nsays = "they hold"\nby = "an engineer"\n'
        'document = "letter 7"\non = 2026-04-01\n'
    )
    said = {c.key: c for c in plan(read_job(text + answer), upto="proof").checks}
    for key in ("building/anchors", "left/anchors", "right/anchors"):
        assert said[key].verdict is Verdict.OK
        assert said[key].source.document == "letter 7"
    assert said["building/slab"].verdict is Verdict.ASK


# ---------------------------------------------------------------- what always holds


def random_case(rng: random.Random) -> tuple[tuple[float, float, float, float], dict[str, Any]]:
    forces = (
        rng.uniform(0, 1500), rng.uniform(-1500, 1500), rng.uniform(100, 2000), rng.uniform(0, 300)
    )  # fmt: skip
    anchor = {
        "kind": rng.choice(["screw", "wedge", "undercut", "cast-in headed"]),
        "per_plate": rng.choice([1, 2, 4, 6]),
        "edge_distance": f"{rng.uniform(3, 20):.2f} in",
        "pullout": rng.choice([None, "2500 lbf"]),
        "cracked": rng.choice(["yes", "no"]),
    }
    return forces, anchor


def loaded(forces: tuple[float, float, float, float], by: float = 1.0) -> Any:
    x, z, y, m = (by * value for value in forces)
    free = load("pivot 1", x=x * LBF, y=y * LBF, z=z * LBF)
    bound = load("pivot 1", situation="person, clamped", x=x * LBF, y=y * LBF, mz=m)
    return free, bound


@pytest.mark.parametrize("seed", range(cases(10, 200)))
@pytest.mark.parametrize("country", ["US", "DE"])
def test_more_load_never_raises_a_margin(seed: int, country: str) -> None:
    rng = random.Random(seed)
    forces, anchor = random_case(rng)
    by = rng.uniform(1.01, 3.0)
    before = {
        c.key: c
        for c in floor_anchors(fixed(*loaded(forces), anchor=anchor, country=country)).checks
    }
    after = floor_anchors(fixed(*loaded(forces, by), anchor=anchor, country=country)).checks
    assert {c.key for c in after} == set(before)
    for check_ in after:
        old = before[check_.key]
        if check_.ratio is not None and old.ratio is not None:
            assert check_.ratio >= old.ratio * (1 - 1e-6), check_.key
        assert ORDER[check_.verdict] >= ORDER[old.verdict], check_.key


@pytest.mark.parametrize("seed", range(cases(10, 200)))
def test_nearer_an_edge_is_never_stronger(seed: int) -> None:
    rng = random.Random(seed)
    forces, anchor = random_case(rng)
    used: list[dict[str, float]] = []
    for edge in (4.0, 7.0, 15.0):
        m = fixed(*loaded(forces), anchor={**anchor, "edge_distance": f"{edge} in"})
        used.append(
            {c.key: c.ratio or 0.0 for c in floor_anchors(m).checks if c.unit in ("N", "1")}
        )
    for nearer, farther in itertools.pairwise(used):
        assert all(farther[key] <= nearer[key] * (1 + 1e-6) for key in nearer)


@pytest.mark.parametrize("seed", range(cases(10, 200)))
def test_nothing_is_ok_without_a_demand_and_every_formula_can_be_worked_again(seed: int) -> None:
    rng = random.Random(seed)
    forces, anchor = random_case(rng)
    country = rng.choice(["US", "FR"])
    proved = floor_anchors(fixed(*loaded(forces), anchor=anchor, country=country))
    assert len({c.key for c in proved.checks}) == len(proved.checks)
    assert any("scan" in words for words in proved.cautions)
    assert_honest(proved.checks)


def test_by_the_european_rules_least_sizes_of_the_product_are_asked_for() -> None:
    one = found(fixed(PUSHED, anchor=ANCHOR, country="FR"), "least")
    assert one.verdict is Verdict.ASK
    assert "s_min, c_min and h_min of the assessment" in one.change
