"""What may be taken away: packet, drawings, plan as JSON, the job file and the whole job."""

from __future__ import annotations

import json
from typing import Literal

from leafwright.documents.report import plan_json
from leafwright.packet import LEAF_ROOM_MM
from leafwright.paper.dxf import dxf_text
from leafwright.paper.pdf import pdf_bytes
from leafwright.paper.scale import fitting_scale
from leafwright.paper.sheet import flatten
from leafwright.paper.sheets import desk, leaf_drawing, leaf_parts, packet_sheets
from leafwright.pipeline import Plan
from leafwright.web.work import Progress


def packet_pdf(made: Plan, progress: Progress = lambda words: None) -> bytes:
    """Return the whole packet as PDF, told on the way how far it is."""
    sheets = packet_sheets(made)
    scenes = []
    for number, sheet in enumerate(sheets, start=1):
        progress(f"drawing sheet {number} of {len(sheets)}: {sheet.title}")
        scenes.append(flatten(sheet))
    progress(f"writing {len(scenes)} sheets")
    job = made.job.job
    return pdf_bytes(scenes, title=f"{job.name}, revision {job.revision}")


def leaf_names(made: Plan) -> tuple[str, ...]:
    """Return the keys of the leaves that can be drawn."""
    return tuple(leaf.key for _, _, leaf in leaf_parts(desk(made)))


def leaf_dxf(made: Plan, key: str) -> bytes | None:
    """Return a leaf's drawing as DXF, or None where there is no such leaf."""
    at = desk(made)
    units: Literal["mm", "in"] = "mm" if made.job.job.system == "metric" else "in"
    for place, table, leaf in leaf_parts(at):
        if leaf.key == key:
            scale = fitting_scale((leaf.width, leaf.height), LEAF_ROOM_MM, at.scales)
            drawing = leaf_drawing(at, leaf, place, table)
            return dxf_text(drawing, units=units, scale=scale).encode()
    return None


def plan_file(made: Plan) -> bytes:
    """Return the whole plan as JSON: full precision, SI."""
    return json.dumps(plan_json(made), ensure_ascii=False, allow_nan=False).encode()
