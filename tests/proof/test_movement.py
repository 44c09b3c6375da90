"""How a leaf moves, what holds it and what its braces carry, against geometry and statics."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from leafwright import chain
from leafwright.frame.load_cases import LYING
from leafwright.frame.of_leaf import GRAVITY
from leafwright.proof import Movement
from leafwright.proof.movement import movement_checks
from leafwright.proof.sag import Sag, sag
from leafwright.records import Verdict
from tests.leaves import INCH, made, random_leaf
from tests.proof.proofs import analysed, check, proved
from tests.sizes import cases

ROD = {"pattern": "rod", "section": "round bar 1/2 in"}


# ------------------------------------------------------------------ movements


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("seed", range(cases(8, 150)))
def test_movements_are_those_of_the_moved_corners(seed: int, hand: str) -> None:
    proof = analysed(random_leaf(seed, hand=hand)[2])
    leaf = proof.leaf
    at = {n.key: np.array(n.at) for n in proof.model.nodes}
    index = {key: i for i, key in enumerate(proof.result.nodes)}
    corners = ["bottom hinge", "bottom nose", "top hinge", "top nose"]
    for c, situation in enumerate(proof.result.cases):
        m = proof.moved(situation)
        # Movements exaggerated a little less than the geometry stays linear, then taken back.
        grown = 1e-3 / max(float(np.abs(proof.result.displacements[c, :, :3]).max()), 1e-12)
        grown = min(grown, 1.0)
        now = {k: at[k] + grown * proof.result.displacements[c, index[k], :3] for k in corners}

        def apart(a: str, b: str, now: dict[str, Any] = now) -> float:
            return float(np.linalg.norm(now[b] - now[a]) - np.linalg.norm(at[b] - at[a]))

        rising, falling = apart("bottom hinge", "top nose"), apart("bottom nose", "top hinge")
        # What is square in the movement is left out: (1 mm)² over a diagonal of metres.
        assert m.diagonals * grown == pytest.approx(rising - falling, abs=2e-6)
        drops = [at[k][1] - now[k][1] for k in ("bottom nose", "top nose")]
        assert m.nose_drop * grown == pytest.approx(max(drops), abs=1e-12)
        away = 1.0 if leaf.hand == "left" else -1.0
        lean = away * (now["top nose"][0] - now["bottom nose"][0])
        lean -= away * (at["top nose"][0] - at["bottom nose"][0])
        assert m.nose_shift * grown == pytest.approx(lean, abs=1e-12)


@pytest.mark.parametrize("hand", ["left", "right"])
def test_sagging_leaf_drops_at_the_nose_and_shortens_its_rising_diagonal(hand: str) -> None:
    proof = analysed(made(1.2, 3.0, hand=hand)[2])
    m = proof.moved("standing")
    assert m.nose_drop > 0
    assert m.diagonals < 0
    # A frame that racks by δ turns its diagonals by δ h/d each, one longer and one shorter.
    h, w = 3.0 - 2 * INCH, 1.2 - 2 * INCH
    assert -m.diagonals == pytest.approx(2 * m.nose_drop * h / math.hypot(w, h), rel=0.03)


@pytest.mark.parametrize("hand", ["left", "right"])
def test_leaf_hung_by_the_middle_of_its_stile_leans_away_at_its_top(hand: str) -> None:
    # Hinges at the third points: the top of the leaf hangs out from the post, the bottom in.
    mount = {"kind": "barrel hinge", "standoff": "80 mm", "heights": ["1.0 m", "2.0 m"]}
    where, what, leaf = made(2.0, 3.0, hand=hand, mount=mount, brace=[{"pattern": "X"}])
    found = sag(where, what, leaf)
    assert isinstance(found, Sag)
    assert found.nose_shift > 0.2 * found.nose_drop > 0


def test_allowance_for_sag_is_never_below_nothing() -> None:
    where, what, leaf = made(44 * INCH, 174 * INCH)
    found = sag(where, what, leaf)
    assert isinstance(found, Sag)
    proof = analysed(leaf)
    assert proof.moved("standing").nose_shift < 0
    assert found.nose_shift == 0.0
    assert found.nose_drop == pytest.approx(proof.moved("standing").nose_drop)


@pytest.mark.parametrize("seed", range(cases(8, 150)))
def test_work_of_a_persons_weight_is_what_their_own_drop_makes_it(seed: int) -> None:
    # Maxwell and Betti: what the leaf's weight moves the handle by, times the person, is what the
    # person moves the leaf's weight by. Both are in the analysis of the same two cases.
    proof = analysed(random_leaf(seed)[2])
    r, model = proof.result, proof.model
    at = {n.key: np.array(n.at) for n in model.nodes}
    index = {key: i for i, key in enumerate(r.nodes)}
    standing, person = r.cases.index("standing"), r.cases.index("person")
    added = r.displacements[person] - r.displacements[standing]
    (load,) = model.cases[person].node_loads
    own = load.force[1] * r.displacements[standing, index[load.node], 1]
    # The work of an even load on an element's cubic (shear leaves it even): ends' moves, and
    # their turns, as its fixed-end forces. Own weight w along y on an element at an angle.
    other = 0.0
    elements = {e.key: (e.start, e.end) for e in model.elements}
    for line in model.cases[standing].line_loads:
        a, b = elements[line.element]
        way = at[b] - at[a]
        length = float(np.linalg.norm(way))
        w = line.start[1]
        across = w * way[0] / length
        other += w * length / 2 * (added[index[a], 1] + added[index[b], 1])
        other += across * length**2 / 12 * (added[index[a], 5] - added[index[b], 5])
    assert other == pytest.approx(own, rel=1e-5)


# ------------------------------------------------------------------ reactions


@pytest.mark.parametrize("seed", range(cases(8, 150)))
def test_reactions_add_up_to_what_is_on_the_leaf(seed: int) -> None:
    proof = analysed(random_leaf(seed)[2])
    leaf = proof.leaf
    for situation, weight in (
        ("standing", leaf.hung_mass * GRAVITY),
        ("person", leaf.hung_mass * GRAVITY + 90.0 * GRAVITY),
        ("pushed", leaf.hung_mass * GRAVITY),
        ("lifted", leaf.lift_mass * GRAVITY),
    ):
        own = [r for r in proof.reactions if r.situation == situation]
        assert sum(r.y for r in own) == pytest.approx(weight, rel=1e-6)
        assert sum(r.x for r in own) == pytest.approx(0.0, abs=1e-3)
        push = 220.0 if situation == "pushed" else 0.0
        assert sum(r.z for r in own) == pytest.approx(push, rel=1e-6, abs=1e-3)
    for situation in LYING:
        lying = [r for r in proof.reactions if r.situation == situation]
        assert sum(r.z for r in lying) == pytest.approx(leaf.lift_mass * GRAVITY, rel=1e-6)


def test_reactions_name_the_places_that_hold_the_leaf() -> None:
    proof = analysed(made(1.2, 3.0)[2])
    places: dict[str, list[str]] = {}
    for r in proof.reactions:
        places.setdefault(r.situation, []).append(r.place)
    assert places == {
        "standing": ["pivot 1", "pivot 2"],
        "person": ["pivot 1", "pivot 2"],
        "pushed": ["pivot 1", "pivot 2", "bottom nose"],
        "trestles": ["trestle 1 hinge", "trestle 1 nose", "trestle 2 hinge", "trestle 2 nose"],
        "three points": ["trestle 1 hinge", "trestle 1 nose", "trestle 2 hinge"],
        "tipped": ["bottom hinge", "bottom nose", "top hinge", "top nose"],
        "lifted": ["lift 1", "lift 2"],
    }


# ------------------------------------------------------------------ braces


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("seed", range(cases(8, 150)))
def test_turning_a_diagonal_round_turns_its_force_in_standing(seed: int, hand: str) -> None:
    signs = []
    for foot in ("hanging stile", "closing stile"):
        brace = [{"pattern": "one diagonal", "foot": foot}]
        proof = analysed(random_leaf(seed, hand=hand, brace=brace, mid_rail=[])[2])
        signs.append(proof.force("A-B1", "standing").middle)
    assert signs[0] < 0 < signs[1]
    # The same panel, the same weight: the same force but for the brace's own weight on it.
    assert signs[1] == pytest.approx(-signs[0], rel=0.15)


@pytest.mark.parametrize("seed", range(cases(8, 150)))
def test_force_along_a_diagonal_varies_by_its_own_weight(seed: int) -> None:
    one = random_leaf(seed, brace=[{"pattern": "one diagonal"}], mid_rail=[])[2]
    proof, brace = analysed(one), one.members[-1]
    at = {n.key: n.at for n in proof.model.nodes}
    (element,) = [e for e in proof.model.elements if e.member == brace.key]
    rise = at[element.end][1] - at[element.start][1]
    length = math.dist(at[element.start], at[element.end])
    for situation in ("standing", "person", "lifted"):
        f = proof.force("A-B1", situation)
        assert f.greatest - f.least == pytest.approx(brace.mass * GRAVITY * rise / length, rel=1e-6)
        assert f.middle == pytest.approx((f.least + f.greatest) / 2, rel=1e-6, abs=1e-6)
        assert not f.slack


def test_whole_bar_of_an_x_has_its_middle_at_the_crossing() -> None:
    proof = analysed(made(1.2, 3.0, brace=[{"pattern": "X"}])[2])
    f = proof.force("A-B1T", "standing")
    assert f.least < f.middle < f.greatest
    assert {b.mark for b in proof.brace_forces} == {"A-B1T", "A-B1L", "A-B1U"}


def test_rod_from_the_top_hinge_pulls_and_one_turned_round_hangs_slack() -> None:
    right_way = analysed(made(1.2, 3.0, brace=[ROD])[2])
    turned = analysed(made(1.2, 3.0, brace=[{**ROD, "foot": "hanging stile"}])[2])
    pulled, slack = right_way.force("A-R1", "standing"), turned.force("A-R1", "standing")
    assert pulled.middle > 0
    assert not pulled.slack
    assert slack.slack
    assert slack.middle == pytest.approx(0.0, abs=1e-9)
    # Slack, it holds nothing: the leaf sags as an unbraced one that carries its weight.
    bare = analysed(made(1.2, 3.0)[2])
    assert turned.moved("standing").nose_drop > bare.moved("standing").nose_drop
    assert right_way.moved("standing").nose_drop < 0.2 * bare.moved("standing").nose_drop


@pytest.mark.parametrize("seed", range(cases(5, 50)))
def test_rod_over_the_whole_leaf_pulls_on_either_hand(seed: int) -> None:
    for hand in ("left", "right"):
        rods = [{**ROD, "panel": "whole leaf"}]
        proof = analysed(random_leaf(seed, hand=hand, brace=rods)[2])
        assert proof.force("A-R", "standing").middle > 0
        assert proof.force("A-R", "person").middle > proof.force("A-R", "standing").middle


# ------------------------------------------------------------------ limits


def movement(situation: str, drop: float, diagonals: float = 0.0) -> Movement:
    return Movement(situation, drop, 0.0, diagonals, 0.0)  # type: ignore[arg-type]


def test_movements_are_held_against_their_limits() -> None:
    _, _, leaf = made(1.2, 3.0)

    def limit(value: float) -> chain.Quantity:
        return chain.base("wish", "limit", "limit", value)

    sagging, racking, person = movement_checks(
        leaf,
        [movement("standing", 0.002, -0.004), movement("person", 0.0115)],
        sag_limit=limit(0.004),
        racking_limit=limit(0.003),
        clearance=limit(0.010),
    )
    assert (sagging.demand, sagging.available, sagging.ratio) == (0.002, 0.004, 0.5)
    assert sagging.verdict is Verdict.OK
    # Diagonals part whichever of the two is the shorter.
    assert racking.demand == 0.004
    assert racking.verdict is Verdict.SHORT
    assert racking.change == "brace the panels, or a deeper rail and stile"
    # The floor is what is left under a nose that has already sagged.
    assert person.demand == pytest.approx(0.0095)
    assert person.verdict is Verdict.TIGHT


def test_no_room_under_the_nose_is_short_and_has_no_ratio() -> None:
    _, proof = proved(1.2, 3.0, clearance=0.0)
    c = check(proof, "person on the nose")
    assert c.verdict is Verdict.SHORT
    assert c.ratio is None
    assert c.available == 0.0
