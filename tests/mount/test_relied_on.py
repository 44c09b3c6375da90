"""What a mount's checks rest on beside the job file is listed among its defaults."""

from __future__ import annotations

from typing import Any

import pytest

from leafwright.job.defaults import DEFAULTS
from leafwright.mount import mounted
from tests.mount.stacks import BARRELS, BUILDING, PIVOT, job, mountings


def listed(mount: dict[str, Any], building: dict[str, Any] | None = None) -> dict[str, float]:
    (m,) = mountings(job(mount, building=building))
    return {q.key: q.value for q in mounted(m).defaults if q.kind == "default"}


def test_choices_that_no_key_has_are_listed_with_their_value() -> None:
    found = listed({**PIVOT, "ball_seat": "hardened", "plug_holes": None})
    for name in ("carry-over", "plug holes", "ball seat pressure", "slam pressure", "access reach"):
        assert found[f"mount/{name}"] == pytest.approx(DEFAULTS[name].inch), name


def test_one_carry_over_serves_pivots_and_hinges() -> None:
    assert listed(BARRELS)["mount/carry-over"] == listed(PIVOT)["mount/carry-over"]


def test_what_the_job_says_is_no_default() -> None:
    found = listed({**PIVOT, "plug_holes": 6})
    assert "mount/plug holes" not in found
    assert "mount/ball seat pressure" not in found


ANCHOR = {
    "kind": "screw",
    "size": "1/2 in",
    "effective_embedment": "2 in",
    "steel_tension": "15 kip",
    "steel_shear": "7 kip",
    "pullout": "5 kip",
}


def test_the_worst_category_is_listed_till_the_report_s_is_given() -> None:
    slab = {"slab_thickness": "6 in", "concrete_strength": "3000 psi", "slab_edge": "20 in"}
    without = listed(PIVOT, {**BUILDING, **slab, "anchor": ANCHOR})
    assert without["mount/anchor category"] == 3.0
    given = listed(PIVOT, {**BUILDING, **slab, "anchor": {**ANCHOR, "category": 1}})
    assert "mount/anchor category" not in given
