"""Wind on a shut leaf: what presses on each of its panels, by which standard, and why.

Solid and open panels are different surfaces: a solid one takes its pressure on all it covers, a
mesh or bare bars on what they cover themselves. Where the maker gives one solidity for the whole
leaf, that holds for the whole. Pressures are as the standard gives them; its factors go beside.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from leafwright.chain import Quantity
from leafwright.frame.load_cases import WindFactors
from leafwright.job.model import Infill, Job, LeafTable
from leafwright.leaf import Leaf
from leafwright.proof.blows import Blows, blows_of, is_indoors
from leafwright.proof.panels import Rectangle, bars_in, rectangles
from leafwright.proof.working import Lines
from leafwright.records import (
    Held,
    Metres,
    Newtons,
    Number,
    Pascals,
    Source,
    SquareMetres,
    Working,
)

Surface = Literal["solid", "mesh", "bars"]

#: From what part of the figures' own force a maker's coefficients are taken without asking [-].
LIKE = 0.95

#: Infill that lets no wind through.
SOLID = ("boards", "sheet", "polycarbonate", "twin-wall", "glass", "panel")


@dataclass(frozen=True, slots=True)
class PanelWind:
    """What wind does to one panel, before any factor.

    ``solidity`` is what of ``area``, all that the panel covers, stops the wind; ``on_solid`` is
    the pressure on that [Pa], and on a mesh's wires; ``force`` is all of it together, and
    ``on_edges`` of it goes to the panel's two long edges; the rest the bars catch themselves, at
    ``on_bars`` [Pa] of their own width.
    """

    panel: int
    surface: Surface
    bottom: Metres
    top: Metres
    area: SquareMetres
    solidity: Number
    on_solid: Pascals
    on_bars: Pascals
    on_edges: Newtons
    force: Newtons


@dataclass(frozen=True, slots=True)
class LeafWind:
    """The wind that one leaf is proved for, before any factor.

    ``area`` is what it acts on, which is neither in the lift weight nor in the hung weight;
    ``force`` is all of it on the leaf. ``factors`` are what it is multiplied by, for strength and
    for how far the leaf moves. ``rule`` says in a line how the pressure came about, ``words`` what
    the maker must know of it, ``asked`` what somebody must answer: key, question and
    what to do.
    """

    leaf: str
    rule: str
    source: Source
    factors: WindFactors
    panels: tuple[PanelWind, ...]
    area: SquareMetres
    force: Newtons
    words: tuple[str, ...]
    asked: tuple[tuple[str, str, str], ...]
    working: tuple[Working, ...]


def mesh_solidity(infill: Infill) -> float | None:
    """Return what part of a mesh its wires cover [-], None where opening or wire is not given."""
    if infill.opening is None or infill.wire is None:
        return None
    opening, wire = infill.opening.si, infill.wire.si
    return 1.0 - (opening / (opening + wire)) ** 2


def wind_on(
    job: Job, table: LeafTable, leaf: Leaf, *, under: float
) -> tuple[LeafWind | Held, tuple[Quantity, ...]]:
    """Return what wind does to a shut leaf, and the defaults and wishes that it rests on.

    Args:
        job: ``[wind]``, ``[building]``, ``[loads]`` and the basis.
        table: the leaf's choices.
        leaf: its members, panels and infill.
        under: from the ground to the leaf's bottom [m].
    """
    lines = Lines()
    taken: list[Quantity] = []
    blows = blows_of(job, leaf, under, lines, taken)
    if isinstance(blows, Held):
        return blows, tuple(taken)
    panels = _panels(table, leaf, blows)
    asked = list(blows.asked)
    force, plain = sum(p.force for p in panels), _by_its_pieces(job, table, leaf, under)
    if plain is not None and force < LIKE * plain:
        asked.append(
            (
                "coefficients",
                "are C_f and solidity in [wind] those of this leaf",
                f"with them the wind is {force / plain:.0%} of what the figures of ASCE 7-22 make "
                "of it piece by piece: have who gave them confirm them, or leave them out",
            )
        )
    if blows.whole is None:
        area = sum(p.area * (1.0 if p.surface == "solid" else p.solidity) for p in panels)
    else:
        area = leaf.width * leaf.height * blows.whole
    found = LeafWind(
        leaf=leaf.key,
        rule=blows.rule,
        source=blows.source,
        factors=blows.factors,
        panels=panels,
        area=area,
        force=force,
        words=blows.words,
        asked=tuple(asked),
        working=_each_once(lines.kept()),
    )
    return found, tuple(taken)


def _each_once(worked: Sequence[Working]) -> tuple[Working, ...]:
    """Return the lines without repeats: panels alike are worked alike."""
    found: list[Working] = []
    for line in worked:
        if line not in found:
            found.append(line)
    return tuple(found)


def _panels(table: LeafTable, leaf: Leaf, blows: Blows) -> tuple[PanelWind, ...]:
    return tuple(_on_panel(p, table, leaf, blows) for p in rectangles(leaf))


def _by_its_pieces(job: Job, table: LeafTable, leaf: Leaf, under: float) -> float | None:
    """Return the wind by ASCE 7's own figures where the maker's C_f or solidity stood in [N]."""
    given = job.wind
    if given is None or is_indoors(job) or given.pressure or "asce" not in given.standard.lower():
        return None
    if given.C_f is None and given.solidity is None:
        return None
    plain = given.model_copy(update={"C_f": None, "solidity": None})
    other = job.model_copy(update={"wind": plain})
    blows = blows_of(other, leaf, under, Lines(), [])
    return None if isinstance(blows, Held) else sum(p.force for p in _panels(table, leaf, blows))


def _infills(table: LeafTable, panel: int) -> Sequence[Infill]:
    return [i for i in table.infill if i.panel in ("each", panel)]


def _on_panel(rectangle: Rectangle, table: LeafTable, leaf: Leaf, blows: Blows) -> PanelWind:
    area = leaf.width * (rectangle.top - rectangle.bottom)
    infills = _infills(table, rectangle.panel)
    found = PanelWind(
        panel=rectangle.panel,
        surface="solid",
        bottom=rectangle.bottom,
        top=rectangle.top,
        area=area,
        solidity=1.0,
        on_solid=blows.solid(area),
        on_bars=0.0,
        on_edges=0.0,
        force=0.0,
    )
    covered = any(i.kind in SOLID for i in infills)
    if blows.whole is not None or covered:
        solid = 1.0 if blows.whole is None else blows.whole
        force = found.on_solid * solid * area
        return replace(found, solidity=solid, on_edges=force, force=force)
    bars = min(area, sum(long * wide for _, long, wide in bars_in(leaf, rectangle)))
    open_part, wire = 1.0, 0.0
    for mesh in infills:
        part = mesh_solidity(mesh)
        # A mesh of which nothing is known stops all the wind.
        open_part *= 0.0 if part is None else 1.0 - part
        wire = max(wire, mesh.wire.si if mesh.wire else 0.0)
    wires = (1.0 - open_part) * (area - bars)
    solidity = (bars + wires) / area
    on_bars = blows.flat(solidity)
    on_wires = blows.round(solidity, wire) if wires > 0.0 else 0.0
    return replace(
        found,
        surface="mesh" if infills else "bars",
        solidity=solidity,
        on_solid=on_wires or on_bars,
        on_bars=on_bars,
        on_edges=on_wires * wires,
        force=on_wires * wires + on_bars * bars,
    )
