"""A leaf on a floor pivot and one on barrel hinges, made for tests in round inches."""

from __future__ import annotations

import functools
from dataclasses import replace
from typing import Any

from leafwright import plan
from leafwright.doorway import Doorway
from leafwright.doorway.heel import heel_of
from leafwright.handbook.aisc360 import Method
from leafwright.job.defaults import DEFAULTS, Default
from leafwright.job.model import Job, LeafTable
from leafwright.job.steel import steel
from leafwright.job.tape import tape_of
from leafwright.leaf import Leaf
from leafwright.mount import Mounting, Proved
from leafwright.proof import LeafProof
from leafwright.records import Check, Verdict
from tests.mount.pivots import with_plates

INCH = 0.0254
LBF = 4.4482216152605

#: Verdicts from the best to the worst.
BEST_FIRST = [Verdict.OK, Verdict.ASK, Verdict.TIGHT, Verdict.SHORT]

PIVOT: dict[str, Any] = {
    "kind": "floor pivot",
    "spacer": "1/2 in",
    "plate": {"thickness": "1/2 in", "width": "6 in", "length": "9 in", "grade": "A36"},
    "pin_diameter": "1.4990 in",
    "sleeve_bore": "1.5015 in",
    "sleeve_outside": "2 in",
    "ball_diameter": "1.5 in",
    "bottom_pin_length": "5 in",
    "top_pin_length": "3 in",
    "slug_length": "1 in",
    "sleeve_length": "7 in",
    "grease_fitting": "1/4-28",
    "access_hole": "1.25 in",
    "plug_hole": "9/16 in",
    "plug_holes": 4,
    "top_plate": {"thickness": "1/2 in", "width": "6 in", "length": "9 in"},
}

BARRELS: dict[str, Any] = {
    "kind": "barrel hinge",
    "standoff": "2 in",
    "heights": ["8 in", "88 in"],
    "pin_diameter": "0.75 in",
    "clearance": "0.010 in",
    "barrel_length": "4 in",
}

HOLD: dict[str, Any] = {
    "shut": "latch",
    "stop_out": "30 in",
    "stop_travel": "1 in",
    "nose_speed": "4 ft/s",
    "open": "drop rod",
    "rod_diameter": "3/4 in",
}

BUILDING: dict[str, Any] = {
    "indoors": "yes",
    "beam_rise": "1/8 in",
    "beam_drop": "1/4 in",
    "least_temperature": "8 F",
    "greatest_temperature": "128 F",
}


def _reading(start: str, end: str, size: str) -> dict[str, Any]:
    return {"kind": "distance", "from": start, "to": end, "is": size}


def job(
    mount: dict[str, Any],
    *,
    hold: dict[str, Any] | None = None,
    building: dict[str, Any] | None = None,
    pair: bool = False,
    method: str = "ASD",
    far_floor: str = "0 in",
    fills: bool = False,
) -> Job:
    """Return a job with a leaf of 8 ft in an opening that is plumb and square.

    ``far_floor`` is its right bottom corner over its left one; ``fills`` cuts the leaf to the
    head instead of setting a transom over it.
    """
    height: dict[str, Any] = {
        "leaf_height": "8 ft",
        "transom": {"section": "HSS 2-1/2 x 2-1/2 x 3/16"},
    }
    leaf = {
        "frame": "HSS 2-1/2 x 2-1/2 x 3/16",
        "mid_rail": [{"at": "half"}],
        "infill": [{"kind": "sheet", "on": "back", "thickness": "16 ga"}],
        "mount": mount,
        "hold": HOLD if hold is None else hold,
    }
    level = [
        {"kind": "level", "at": name, "is": size}
        for name, size in (
            ("BL", "0 in"),
            ("BR", far_floor),
            ("TL", "110 in"),
            ("TR", "110 in"),
        )
    ]
    plumb = {"kind": "plumb", "from": "BL", "to": "TL", "is": "0 in", "toward": "outward"}
    return Job.model_validate(
        {
            "leafwright": 1,
            "job": {"name": "test", "seen_from": "yard", "system": "feet-inch"},
            "basis": {"method": method},
            "opening": {"survey_temperature": "68 F"},
            "reading": [
                _reading("BL", "BR", "96 in" if pair else "48 in"),
                _reading("TL", "TR", "96 in" if pair else "48 in"),
                plumb,
                *level,
            ],
            "doorway": {
                "leaves": "pair" if pair else "single",
                "top_gap": "1-1/4 in",
                **({} if fills else height),
            },
            "leaf": [{"hand": hand, **leaf} for hand in (("left", "right") if pair else ("left",))],
            "building": BUILDING if building is None else building,
        }
    )


def mountings(of: Job) -> tuple[Mounting, ...]:
    """Return every leaf of a job as it hangs."""
    made = plan(of, upto="proof")
    assert isinstance(made.doorway, Doorway), made.doorway
    found = []
    for place, leaf, proof in zip(made.doorway.leaves, made.leaves, made.proofs, strict=True):
        assert isinstance(leaf, Leaf), leaf
        assert isinstance(proof, LeafProof), proof
        table = next(t for t in of.leaf if t.hand == place.hand)
        found.append(
            Mounting(
                of,
                made.doorway,
                place,
                table,
                leaf,
                proof,
                steel(of),
                Method(of.basis.method),
                tape_of(of),
            )
        )
    return tuple(found)


@functools.cache
def _usual(kind: str, method: str) -> Mounting:
    (found,) = mountings(job(PIVOT if kind == "pivot" else BARRELS, method=method))
    return found


def pivot(
    *, building: dict[str, Any] | None = None, method: str = "ASD", **changes: Any
) -> Mounting:
    """Return the leaf on its floor pivot, with sizes changed (None takes one away).

    What else hangs on a size, in doorway and frame, stays as it was.
    """
    return _changed(_usual("pivot", method), PIVOT, building, changes)


def barrels(*, building: dict[str, Any] | None = None, **changes: Any) -> Mounting:
    """Return the leaf on its barrel hinges, with sizes changed (None takes one away)."""
    return _changed(_usual("barrels", "ASD"), BARRELS, building, changes)


def _changed(
    m: Mounting, given: dict[str, Any], building: dict[str, Any] | None, changes: dict[str, Any]
) -> Mounting:
    mount = {key: value for key, value in {**given, **changes}.items() if value is not None}
    whole = m.table.model_dump(mode="json", exclude_none=True, by_alias=True)
    table = LeafTable.model_validate({**whole, "mount": mount})
    update: dict[str, Any] = {"leaf": (table,)}
    if building is not None:
        update["building"] = type(m.job.building).model_validate(building)
    room = with_plates(m.room, heel_of(m.steel, table, m.key))
    return replace(m, room=room, table=table, job=m.job.model_copy(update=update))


def held(m: Mounting, **changes: Any) -> Mounting:
    """Return a leaf with its hold changed (None takes a key away)."""
    given = {key: value for key, value in {**HOLD, **changes}.items() if value is not None}
    whole = m.table.model_dump(mode="json", exclude_none=True, by_alias=True)
    table = LeafTable.model_validate({**whole, "hold": given})
    return replace(m, table=table, job=m.job.model_copy(update={"leaf": (table,)}))


def check(proved: Proved, key: str) -> Check:
    """Return the check of a key, without the leaf's own part."""
    (found,) = (c for c in proved.checks if c.key == f"leaf/{key}")
    return found


def keys(proved: Proved) -> set[str]:
    """Return the keys of every check, without the leaf's own part."""
    return {c.key.removeprefix("leaf/") for c in proved.checks}


def wider(name: str, times: float) -> Default:
    """Return a default so many times as large."""
    one = DEFAULTS[name]
    return Default(one.inch * times, one.metric * times, one.why, one.unit)
