"""What holds the nose of the shut leaf in wind: asked until it is said, a drop rod worked out."""

from __future__ import annotations

import math
from typing import Any

import pytest

from leafwright.proof import LeafProof
from leafwright.records import Verdict
from tests.leaves import INCH
from tests.proof.proofs import check, proved

SHEET = {"kind": "sheet", "thickness": "2 mm"}
PSI = 6894.757293168362


def held(**hold: Any) -> LeafProof:
    return proved(1.2, 3.0, infill=[SHEET], hold=hold)[1]


def nose(proof: LeafProof, place: str = "bottom") -> float:
    """Return the greatest force at the nose in wind [N]."""
    return max(
        abs(p.z)
        for p in proof.pivot_loads
        if p.place == f"{place} nose" and p.situation.startswith("wind")
    )


def test_nothing_said_is_asked_and_says_what_would_do() -> None:
    asked = check(held(), "hold/shut")
    assert asked.verdict is Verdict.ASK
    for word in ('shut = "latch" or "drop rod"', "lbf at the bottom", "swinging"):
        assert word in asked.change


def test_stop_holds_one_way_only() -> None:
    asked = check(held(shut="stop"), "hold/shut")
    assert asked.verdict is Verdict.ASK
    assert "one way only" in asked.change


def test_latch_is_its_makers_to_answer_with_the_force() -> None:
    proof = held(shut="latch", at=["bottom", "top"])
    asked = check(proof, "hold/shut")
    assert asked.verdict is Verdict.ASK
    for place in ("bottom", "top"):
        assert f"{nose(proof, place) / 4.4482216152605:.1f} lbf at the {place}" in asked.rule


def test_nose_holds_half_the_wind_by_statics() -> None:
    # Panel taller than wide: half the wind on either stile. The nose stile's half, and what of the
    # hanging stile's is off the axis (nothing: the axis is its middle), turn about the axis.
    _, proof = proved(1.2, 3.0, infill=[SHEET], hold={"shut": "latch", "at": ["bottom", "top"]})
    assert proof.wind.force > 0  # type: ignore[union-attr]
    for situation in ("wind on face", "wind on back"):
        there = [p.z for p in proof.pivot_loads if p.situation == situation and "nose" in p.place]
        assert len(there) == 2
        half = proof.wind.force / 2  # type: ignore[union-attr]
        assert abs(sum(there)) == pytest.approx(half, rel=1e-6)


def test_drop_rod_worked_by_hand() -> None:
    # 3/4 in of plain bar (36 ksi) out of its guide over 2 in and its own diameter, and the gap
    # over the leaf by default 1/2 in: AISC 360-22, F11, 1.6 F_y S; J4.2(a), 0.6 F_y A x 3/4.
    d, gap = 0.75 * INCH, 0.05
    proof = held(shut="drop rod", rod_diameter="3/4 in", at=["bottom", "top"])
    for place, open_by in (("bottom", gap), ("top", 0.5 * INCH)):
        F = nose(proof, place)
        bending = check(proof, f"hold/{place} rod bending")
        assert bending.demand == pytest.approx(F * (open_by + d))
        assert bending.available == pytest.approx(1.6 * 36000 * PSI * math.pi / 32 * d**3 / 1.67)
        shear = check(proof, f"hold/{place} rod shear")
        assert shear.demand == pytest.approx(F)
        assert shear.available == pytest.approx(0.6 * 36000 * PSI * 0.75 * math.pi / 4 * d**2 / 1.5)
    socket = check(proof, "hold/socket")
    assert socket.verdict is Verdict.ASK
    assert "hold/shut" not in {c.key.removeprefix("leaf/") for c in proof.checks}
    assert "drop rod yield" in {q.key.removeprefix("proof/") for q in proof.wishes.taken}


def test_thin_rod_is_short_and_says_so() -> None:
    tables: dict[str, Any] = {"loads": {"indoor_pressure": "30 psf"}}
    hold = {"shut": "drop rod", "rod_diameter": "8 mm"}
    _, proof = proved(1.2, 3.0, infill=[SHEET], hold=hold, tables=tables)
    bending = check(proof, "hold/bottom rod bending")
    assert bending.verdict is Verdict.SHORT
    assert "thicker rod" in bending.change


def test_drop_rod_of_no_size_is_asked_for_it() -> None:
    asked = check(held(shut="drop rod"), "hold/shut")
    assert asked.verdict is Verdict.ASK
    assert "rod_diameter" in asked.change


def test_nose_held_at_both_ends_twists_less() -> None:
    one, both = held(shut="latch"), held(shut="latch", at=["bottom", "top"])
    a, b = (check(p, "wind bow") for p in (one, both))
    assert (a.demand or 0.0) > 1.5 * (b.demand or 0.0) > 0.0
