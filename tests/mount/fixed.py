"""The boathouse's left leaf with anchors, a slab and a head of round numbers."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from leafwright.handbook.aisc360 import Method
from leafwright.job.model import Building
from leafwright.job.steel import steel
from leafwright.mount import Mounting
from leafwright.proof import PivotLoad
from tests.mount.pivots import hung

#: A product whose report says everything; strengths are nominal.
ANCHOR: dict[str, Any] = {
    "kind": "screw",
    "size": "1/2 in",
    "embedment": "3-1/4 in",
    "per_plate": 4,
    "report": "a report",
    "effective_embedment": "2.5 in",
    "steel_tension": "18000 lbf",
    "steel_shear": "7000 lbf",
    "pullout": "3000 lbf",
    "category": 1,
}
#: A slab far from its edges, under a beam of steel that is sold today.
BUILDING: dict[str, Any] = {
    "slab_thickness": "6 in",
    "slab_edge": "40 in",
    "concrete_strength": "3000 psi",
    "beam": "W12x26",
    "beam_span": "22 ft",
    "beam_grade": "A992",
}


def fixed(
    *loads: PivotLoad,
    method: Method = Method.ASD,
    building: dict[str, Any] | None = None,
    anchor: dict[str, Any] | None = None,
    country: str = "US",
    transom: bool = True,
    **sizes: Any,
) -> Mounting:
    """Return the leaf with these loads; ``building`` and ``anchor`` over the tables above.

    None leaves a key out; without ``transom`` the top plate goes to the beam.
    """
    m = hung(*loads, method=method, **sizes)
    anchors = {key: v for key, v in {**ANCHOR, **(anchor or {})}.items() if v is not None}
    around = {**BUILDING, "anchor": anchors, **(building or {})}
    table = Building.model_validate({key: v for key, v in around.items() if v is not None})
    basis = m.job.basis.model_copy(update={"country": country})
    job = m.job.model_copy(update={"building": table, "basis": basis})
    room = m.room if transom else replace(m.room, transom=None)
    return replace(m, job=job, room=room, steel=steel(job))
