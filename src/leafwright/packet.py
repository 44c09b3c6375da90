"""The packet on disk: PDF, a picture of every sheet, a drawing of every leaf, and the plan."""

from __future__ import annotations

import json
import os
import re
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Literal

from leafwright.documents.report import plan_json
from leafwright.job.tape import tape_of
from leafwright.leaf import Leaf
from leafwright.paper.drawing import Drawing, combined
from leafwright.paper.dxf import dxf_text
from leafwright.paper.pdf import pdf_bytes
from leafwright.paper.scale import FULL_SIZE, fitting_scale
from leafwright.paper.scene import Text
from leafwright.paper.sheet import flatten
from leafwright.paper.sheets import desk, leaf_drawing, leaf_parts, packet_sheets
from leafwright.paper.sheets.hole_plates import cutting_drawing
from leafwright.paper.sheets.wraps import template, wrapped_ends
from leafwright.paper.svg import svg_text
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.shop.holes.records import Plate as HolePlate
from leafwright.units import show_length

#: Words and arrowheads of a leaf's DXF are sized as if it were printed in this room [mm].
LEAF_ROOM_MM = (180.0, 200.0)


def _slug(words: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-")


def _write(path: Path, content: bytes) -> None:
    """Write a file whole or not at all: beside it first, then in its place."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(name).chmod(0o644)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _dxf_title(made: Plan, leaf: Leaf) -> Drawing:
    """Return what a DXF must say for itself, since it travels without its sheet."""
    job = made.job.job
    name = "leaf" if leaf.key == "leaf" else f"{leaf.key} leaf"
    lines = [f"{job.name}, {name}, revision {job.revision}, seen from the {job.seen_from}"]
    if not made.for_cutting:
        lines.insert(0, f"NOT FOR CUTTING: {made.stops[0].why if made.stops else 'held'}")
    under = -0.25 * leaf.height
    return Drawing((Text((0.0, under), "\n".join(lines), anchor="left-top", bold=True),))


def _plate_title(made: Plan, plate: HolePlate) -> Drawing:
    """Return what a plate's DXF says under its outline."""
    job = made.job.job
    tape = tape_of(made.job)
    lines = [
        f"{job.name}, {plate.mark} {plate.name}, {plate.count} of "
        f"{show_length(plate.thickness.value, tape)} {plate.grade}, revision {job.revision}",
        f"seen {plate.seen}; cut: layer cut; pin's place: layer mark",
    ]
    if not made.for_cutting:
        lines.insert(0, f"NOT FOR CUTTING: {made.stops[0].why if made.stops else 'held'}")
    at = (0.0, -0.012)
    return Drawing((Text(at, "\n".join(lines), anchor="left-top", height_mm=4.0),))


def write_packet(
    made: Plan, folder: Path, *, progress: Callable[[str], None] = lambda words: None
) -> tuple[Path, ...]:
    """Write a plan's packet into a folder and return the files, `packet.pdf` first.

    Args:
        made: the plan.
        folder: where to; it is made if need be, and files of the same names are replaced.
        progress: told in a few words what is being written.

    Raises:
        OSError: the folder cannot be written to; no file is left half written.
    """
    written: list[Path] = []

    def write(name: str, content: bytes) -> None:
        _write(folder / name, content)
        written.append(folder / name)

    progress("drawing the sheets")
    scenes = [flatten(sheet) for sheet in packet_sheets(made)]
    job = made.job.job
    progress(f"writing {len(scenes)} sheets")
    write("packet.pdf", pdf_bytes(scenes, title=f"{job.name}, revision {job.revision}"))
    for number, scene in enumerate(scenes, start=1):
        text = svg_text(scene, title=f"{job.name}: {scene.title}", description=scene.title)
        write(f"sheets/{number:02}-{_slug(scene.title)}.svg", text.encode())
    at = desk(made)
    units: Literal["mm", "in"] = "mm" if job.system == "metric" else "in"
    for place, table, leaf in leaf_parts(at):
        name = "leaf" if leaf.key == "leaf" else f"{leaf.key}-leaf"
        progress(f"writing {name}.dxf")
        scale = fitting_scale((leaf.width, leaf.height), LEAF_ROOM_MM, at.scales)
        drawing = combined(leaf_drawing(at, leaf, place, table), _dxf_title(made, leaf))
        write(f"{name}.dxf", dxf_text(drawing, units=units, scale=scale).encode())
    for plate in () if isinstance(made.holes, Held) else made.holes.plates:
        name = _slug(f"{plate.mark} {plate.name}")
        progress(f"writing {name}.dxf")
        drawing = combined(cutting_drawing(plate), _plate_title(made, plate))
        write(f"{name}.dxf", dxf_text(drawing, units=units, scale=FULL_SIZE).encode())
    for item, end, wrap in wrapped_ends(at):
        name = f"template-{_slug(item.marks[0])}-{_slug(end)}"
        progress(f"writing {name}.dxf")
        told = f"{', '.join(item.marks)}: {end}, {item.section.designation}; this side out, end up"
        if not made.for_cutting:
            told = f"NOT FOR CUTTING. {told}"
        text = dxf_text(template(wrap, told), units=units, scale=FULL_SIZE)
        write(f"{name}.dxf", text.encode())
    progress("writing the plan")
    whole = json.dumps(plan_json(made), indent=1, ensure_ascii=False, allow_nan=False)
    write("plan.json", whole.encode())
    return tuple(written)
