"""Fillets of a mount: one least leg, and one strength with the parts beside, whatever they hold."""

from __future__ import annotations

import pytest

from leafwright.handbook.aisc360 import welds
from leafwright.mount import mounted
from leafwright.mount.weld_strength import fillet_strength, tube_beside
from leafwright.proof.working import Lines
from tests.mount.stacks import BARRELS, INCH, LBF, PIVOT, job, mountings

WELDED = {
    **PIVOT,
    "pin_weld": "3/8 in",
    "top_fixed": "welded",
    "top_weld": "3/16 in",
    "pin_grade": "A36",
}


def test_a_fillet_too_small_for_its_parts_is_asked_about_in_one_way() -> None:
    found = []
    for mount in (WELDED, {**BARRELS, "weld": "3/16 in"}):
        (m,) = mountings(job(mount))
        found += [c for c in mounted(m).checks if c.key.endswith("weld size")]
    assert {c.key.split("/", 1)[1] for c in found} == {
        "bottom pin/weld size",
        "top pin/weld size",
        "head/weld size",
        "hinge/weld size",
    }
    assert len({c.question for c in found}) == 1
    assert len({(str(c.source), c.rule) for c in found}) == 1


def test_no_more_of_a_leg_counts_than_a_quarter_of_its_length() -> None:
    # ANSI/AISC 360-22, J2.2b(c): E70, 0.6 F_EXX × 0.707 w / 2.00, 0.928 kip/in a sixteenth (ASD).
    (m,) = mountings(job(BARRELS))
    metal = 70e3 * LBF / INCH**2

    def carries(leg: float, length: float | None) -> float:
        found = fillet_strength(m, leg * INCH, metal, (), Lines(), length=length)
        return found / (1e3 * LBF / INCH)

    assert carries(3 / 16, None) == pytest.approx(3 * 0.928, rel=1e-3)
    assert carries(3 / 16, 4 * INCH) == pytest.approx(3 * 0.928, rel=1e-3)
    assert carries(1.0, 1 * INCH) == pytest.approx(4 * 0.928, rel=1e-3)


def test_a_thin_wall_beside_it_is_weaker_than_a_large_fillet() -> None:
    (m,) = mountings(job(BARRELS))
    stile = m.leaf.members[0].section
    steel, t = tube_beside(stile)
    metal = 70e3 * LBF / INCH**2
    found = fillet_strength(m, INCH, metal, [(steel, t)], Lines())
    torn = 0.6 * steel.tensile_strength * t / 2.0
    sheared = 0.6 * steel.yield_stress * t / 1.5
    assert found == pytest.approx(min(torn, sheared))
    assert welds.minimum_fillet(stile.nominal_wall) < INCH
