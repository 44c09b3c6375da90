"""Infill of a leaf: what covers its panels, and what that weighs."""

from __future__ import annotations

import math

from leafwright.doorway.heel import infill_thickness
from leafwright.job.model import Infill
from leafwright.job.steel import STEEL_DENSITY
from leafwright.leaf.records import InfillPiece, Panel
from leafwright.records import Held


def areal_mass(infill: Infill) -> float | Held:
    """Return the mass of an infill per face covered [kg/m2], or what it needs to be weighed.

    A mesh of round wires of diameter d at clear opening s weighs 2 · ρ · π d²/4 / (s + d); sheet
    without a density is steel.
    """
    if infill.mass_per_area is not None:
        return infill.mass_per_area.si
    if infill.kind == "mesh":
        if infill.opening is None or infill.wire is None:
            return Held("the mesh cannot be weighed", ("its opening and wire, or mass_per_area",))
        wire = infill.wire.si
        return 2 * STEEL_DENSITY * math.pi / 4 * wire**2 / (infill.opening.si + wire)
    if infill.thickness is None:
        return Held(f"the {infill.kind} cannot be weighed", ("its thickness, or mass_per_area",))
    if infill.density is not None:
        return infill.thickness.si * infill.density.si
    if infill.kind == "sheet":
        return infill.thickness.si * STEEL_DENSITY
    return Held(f"the {infill.kind} cannot be weighed", ("its density, or mass_per_area",))


def infill_pieces(
    key: str,
    infills: tuple[Infill, ...],
    panels: tuple[Panel, ...],
    width: float,
    height: float,
) -> tuple[InfillPiece, ...] | Held:
    """Return the infill of every panel and face: each runs to the frame's edges [m].

    Between two panels it meets its neighbour on the middle of the mid rail.
    """
    pieces: list[InfillPiece] = []
    for infill in infills:
        per_area = areal_mass(infill)
        if isinstance(per_area, Held):
            return per_area
        if isinstance(infill.panel, int) and not 1 <= infill.panel <= len(panels):
            return Held(
                f"there is no panel {infill.panel} for the {infill.kind}",
                (f"a panel from 1 (the lowest) to {len(panels)}",),
            )
        faces = ("face", "back") if infill.on == "both" else (infill.on,)
        for panel in panels:
            if infill.panel not in ("each", panel.number):
                continue
            bottom, top = _covered(panel, panels, height)
            for face in faces:
                area = width * (top - bottom)
                key_here = f"{key}/{infill.kind}-{panel.number}-{face}"
                if any(piece.key == key_here for piece in pieces):
                    return Held(
                        f"{infill.kind} is put on the {face} of panel {panel.number} twice",
                        (f"one {infill.kind} on it, as thick as both",),
                    )
                pieces.append(
                    InfillPiece(
                        key=key_here,
                        kind=infill.kind,
                        panel=panel.number,
                        face="face" if face == "face" else "back",
                        left=0.0,
                        right=width,
                        bottom=bottom,
                        top=top,
                        thickness=infill_thickness(infill),
                        area=area,
                        mass=area * per_area,
                    )
                )
    return tuple(pieces)


def _covered(panel: Panel, panels: tuple[Panel, ...], height: float) -> tuple[float, float]:
    below = [p for p in panels if p.number == panel.number - 1]
    above = [p for p in panels if p.number == panel.number + 1]
    bottom = (below[0].top + panel.bottom) / 2 if below else 0.0
    top = (panel.top + above[0].bottom) / 2 if above else height
    return bottom, top
