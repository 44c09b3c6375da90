"""The whole proof of a leaf: what it is worked by, what it assumes, and its braces compared."""

from __future__ import annotations

import importlib
from typing import Any

import numpy as np
import pytest

from leafwright import chain
from leafwright.frame.load_cases import BARE, NAMES
from leafwright.proof import prove
from leafwright.proof.prove import holding, proof_wishes
from leafwright.records import Held, Verdict
from tests.leaves import INCH, STEEL, made, place, table
from tests.proof.proofs import LBF, POUND, check, job, proved

ROD = {"pattern": "rod", "section": "round bar 1/2 in"}


def test_other_codes_are_held_and_not_guessed() -> None:
    where, what, leaf = made(1.2, 3.0)
    room = chain.base("wish", "room", "room", 0.05)
    found = prove(
        job(basis={"steel": "EN 1993-1-1:2005"}), where, what, leaf, STEEL, clearance=room
    )
    assert found == Held(
        "member checks to EN 1993-1-1:2005 are not there yet",
        ('steel = "AISC 360-22" in [basis]',),
    )


@pytest.mark.parametrize("method", ["ASD", "LRFD"])
def test_proof_is_by_the_method_of_the_job(method: str) -> None:
    hold = {"stop_out": "800 mm", "stop_travel": "30 mm"}
    _, proof = proved(1.2, 3.0, hold=hold, tables={"basis": {"method": method}})
    assert proof.basis == f"ANSI/AISC 360-22, {method}"
    assert {c.basis for c in proof.checks if c.key.endswith("/together")} == {method}
    # Movements are of loads as they are, by either method: each situation once, its pins free.
    free = [situation for situation in NAMES if not situation.endswith(", clamped")]
    assert [m.situation for m in proof.movements] == free
    assert {p.situation for p in proof.pivot_loads} == set(NAMES) - set(BARE)


def test_movements_do_not_depend_on_the_method() -> None:
    brace = [{"pattern": "X"}]
    _, asd = proved(1.2, 3.0, brace=brace)
    _, lrfd = proved(1.2, 3.0, brace=brace, tables={"basis": {"method": "LRFD"}})
    for a, b in zip(asd.movements, lrfd.movements, strict=True):
        assert b.nose_drop == pytest.approx(a.nose_drop, rel=1e-9, abs=1e-15)
    assert [f.middle for f in lrfd.brace_forces] == pytest.approx(
        [f.middle for f in asd.brace_forces], rel=1e-7, abs=1e-6
    )


def test_loads_and_limits_are_wished_or_listed_defaults() -> None:
    plain = proof_wishes(job(), table())
    assert plain.person.value == pytest.approx(200 * POUND)
    assert plain.push.value == pytest.approx(50 * LBF)
    assert plain.handle_height.value == pytest.approx(40 * INCH)
    kinds = [plain.person, plain.push, plain.handle_height, plain.sag_limit, plain.racking_limit]
    assert {q.kind for q in kinds} == {"default"}
    asked = proof_wishes(
        job(loads={"person": "120 kg", "push": "300 N"}, limits={"nose_sag": "2 mm"}),
        table(handle_height="1.1 m"),
    )
    assert (asked.person.value, asked.push.value) == pytest.approx((120.0, 300.0))
    assert asked.sag_limit.value == pytest.approx(0.002)
    assert asked.handle_height.value == pytest.approx(1.1)
    assert asked.person.kind == "wish"


def test_pivots_hold_at_foot_and_head_and_hinges_where_they_are() -> None:
    assert holding(place(1.2, 3.0, axis=0.03), table()).heights == (0.0, 3.0)
    assert holding(place(1.2, 3.0, axis=0.03), table()).axis == pytest.approx(0.03)
    right = holding(place(1.2, 3.0, axis=0.03, hand="right"), table(hand="right"))
    assert right.axis == pytest.approx(1.17)
    mount = {"kind": "barrel hinge", "standoff": "80 mm", "heights": ["2.5 m", "0.3 m"]}
    hinged = holding(place(1.2, 3.0, axis=-0.04), table(mount=mount))
    assert hinged.axis == pytest.approx(-0.04)
    assert hinged.heights == pytest.approx((0.3, 2.5))


def test_heavier_person_is_felt_in_the_proof() -> None:
    _, light = proved(1.2, 3.0, tables={"loads": {"person": "60 kg"}})
    _, heavy = proved(1.2, 3.0, tables={"loads": {"person": "120 kg"}})
    a, b = (check(p, "bottom rail/together").ratio for p in (light, heavy))
    assert a is not None
    assert b is not None
    assert b > 1.5 * a


def names(**wishes: Any) -> list[str]:
    return [b.name for b in proved(1.2, 3.0, **wishes)[1].bracings]


def test_bracing_is_compared_with_none_and_with_itself_turned_round() -> None:
    assert names(brace=[{"pattern": "X"}]) == ["as drawn", "no brace", "turned round"]
    assert names(brace=[ROD]) == ["as drawn", "no brace", "turned round"]


def test_leaf_without_braces_is_compared_with_nothing() -> None:
    assert names() == ["as drawn"]
    assert names(brace=[{"pattern": "none"}]) == ["as drawn"]


def test_turned_round_leans_the_other_way() -> None:
    _, proof = proved(1.2, 3.0, brace=[{"pattern": "one diagonal"}])
    drawn, none, turned = proof.bracings
    (pressed,) = [f for f in drawn.forces if f.situation == "standing"]
    (pulled,) = [f for f in turned.forces if f.situation == "standing"]
    assert pressed.middle < 0 < pulled.middle
    assert none.forces == ()
    assert none.nose_drop_standing > 10 * drawn.nose_drop_standing
    assert none.lift_mass < drawn.lift_mass == turned.lift_mass
    # And is what the leaf would be, drawn that way.
    _, other = proved(1.2, 3.0, brace=[{"pattern": "one diagonal", "foot": "closing stile"}])
    assert other.bracings[0].nose_drop_person == pytest.approx(turned.nose_drop_person)


def test_rod_turned_round_hangs_slack() -> None:
    _, proof = proved(1.2, 3.0, brace=[ROD])
    turned = next(b for b in proof.bracings if b.name == "turned round")
    assert all(f.slack for f in turned.forces)


def test_what_the_proof_leaves_out_is_said() -> None:
    _, proof = proved(1.2, 3.0)
    said = " ".join(proof.assumptions)
    told = ("rigid", "K = 1", "pins", "infill", "no wind on an open leaf", "not proved here")
    for word in (*told, "two long edges", "push of air indoors"):
        assert word in said


def test_every_ok_has_a_demand_and_every_other_verdict_says_what_would_mend_it() -> None:
    _, proof = proved(3.0, 3.0, brace=[{"pattern": "X"}], clearance=0.001)
    for c in proof.checks:
        if c.verdict is Verdict.OK:
            assert c.demand is not None
            assert c.available is not None
            assert not c.change, c.key
        else:
            assert c.change, c.key


def test_every_working_behind_a_check_gives_its_value_again() -> None:
    tables: dict[str, Any] = {
        "wind": {"standard": "ASCE 7-22", "speed": "105 mph", "exposure": "C"},
        "opening": {"head": False},
    }
    infill = [{"kind": "sheet", "thickness": "3 mm", "fixing_spacing": "200 mm", "screw": "6 mm"}]
    hold = {"shut": "drop rod", "rod_diameter": "20 mm"}
    _, proof = proved(1.2, 3.0, infill=infill, hold=hold, tables=tables)
    seen = set()
    for c in proof.checks:
        for line in c.working:
            module, name = line.figure.rsplit(".", 1)
            function = getattr(importlib.import_module(f"leafwright.handbook.{module}"), name)
            again = function(**dict(line.given))
            assert np.all(again == line.value), line
            seen.add(line.figure)
    assert {
        "wind.velocity_pressure",
        "plates.simply_supported_plate",
        "plates.pushed_plate",
        "screws.pull_out",
        "screws.pull_over",
        "thermal.thermal_bow",
        "beams.cantilever_tip_load",
    } <= seen
