"""Wind on a shut leaf: what presses on each of its panels, by which standard, and why.

Solid and open panels are different surfaces: a solid one takes its pressure on all it covers, a
mesh or bare bars on what they cover themselves. Where the maker gives one solidity for the whole
leaf, that holds for the whole. Coefficients that make less of it than the standard's own figures
are not proved with until somebody has answered for them: what passed with them alone would stand
as ok. Pressures are as the standard gives them; its factors go beside.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from leafwright.chain import Quantity
from leafwright.frame.load_cases import WindFactors
from leafwright.job.defaults import chosen
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

#: What carries a panel's pressure: its two long edges, or what boards end on.
Edges = Literal["long", "stiles", "rails"]

#: Infill that lets no wind through.
SOLID = ("boards", "sheet", "polycarbonate", "twin-wall", "glass", "panel")


@dataclass(frozen=True, slots=True)
class PanelWind:
    """What wind does to one panel, before any factor.

    ``solidity`` is what of ``area``, all that the panel covers, stops the wind; ``on_solid`` is
    the pressure on that [Pa], and on a mesh's wires; ``force`` is all of it together, and
    ``on_edges`` of it goes to two of the panel's edges, ``edges``: the two long ones, or those that
    its boards end on; ``either`` where nobody says which way boards run. The rest the bars catch
    themselves, at ``on_bars`` [Pa] of their own width.
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
    edges: Edges = "long"
    either: bool = False


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
    asked, words = list(blows.asked), list(blows.words)
    plain = _by_its_pieces(job, table, leaf, under)
    part = _least_part(panels, plain)
    alike = chosen(
        None,
        "coefficients alike",
        "proof/coefficients alike",
        "wind coefficients taken unasked from",
        system=job.job.system,
    )
    if plain:
        taken.append(alike)
    if part < alike.value:
        key = f"{leaf.key}/wind/coefficients"
        confirmed = any(answer.about == key for answer in job.answer)
        asked.append(
            (
                "coefficients",
                "are C_f and solidity in [wind] those of this leaf",
                f"with them the wind on a panel is as little as {part:.0%} of what the figures of "
                "ASCE 7-22 make of it. Until they are confirmed every panel is proved for the "
                "larger of the two: have who gave them confirm them in an [[answer]] about "
                f'"{key}", or leave them out',
            )
        )
        if not confirmed:
            panels = _larger(panels, plain)
            words.append(
                "C_f and solidity in [wind] make less of the wind than ASCE 7-22 does, and nobody "
                "has confirmed them: every panel takes the larger of the two"
            )
    force = sum(p.force for p in panels)
    area = sum(p.area * p.solidity for p in panels)
    found = LeafWind(
        leaf=leaf.key,
        rule=blows.rule,
        source=blows.source,
        factors=blows.factors,
        panels=panels,
        area=area,
        force=force,
        words=tuple(words),
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


def _by_its_pieces(job: Job, table: LeafTable, leaf: Leaf, under: float) -> tuple[PanelWind, ...]:
    """Return the wind by ASCE 7's own figures where the maker's C_f or solidity stood."""
    given = job.wind
    if given is None or is_indoors(job) or given.pressure or "asce" not in given.standard.lower():
        return ()
    if given.C_f is None and given.solidity is None:
        return ()
    plain = given.model_copy(update={"C_f": None, "solidity": None})
    other = job.model_copy(update={"wind": plain})
    blows = blows_of(other, leaf, under, Lines(), [])
    return () if isinstance(blows, Held) else _panels(table, leaf, blows)


def _least_part(given: Sequence[PanelWind], plain: Sequence[PanelWind]) -> float:
    """Return what part of the standard's force a maker's figures leave, of all and of any panel.

    1 where the standard has no figures of its own.
    """
    if not plain:
        return 1.0
    parts = [g.force / p.force for g, p in zip(given, plain, strict=True) if p.force > 0.0]
    return min([*parts, sum(g.force for g in given) / sum(p.force for p in plain)])


def _larger(one: Sequence[PanelWind], other: Sequence[PanelWind]) -> tuple[PanelWind, ...]:
    """Return of every panel the wind that is more, and the larger pressure on what is solid."""
    found = []
    for pair in zip(one, other, strict=True):
        most = max(pair, key=lambda panel: panel.force)
        found.append(replace(most, on_solid=max(panel.on_solid for panel in pair)))
    return tuple(found)


def _infills(table: LeafTable, panel: int) -> Sequence[Infill]:
    return [i for i in table.infill if i.panel in ("each", panel)]


def _edges(infills: Sequence[Infill]) -> tuple[Edges, bool]:
    """Return what a covered panel's pressure goes to, and whether boards leave that open.

    Boards carry it along their length; a sheet on one of its faces carries it as a plate.
    """
    solid = [i for i in infills if i.kind in SOLID]
    if not solid or any(i.kind != "boards" for i in solid):
        return "long", False
    runs = {i.runs for i in solid}
    if len(runs) == 1 and None not in runs:
        return ("rails" if runs == {"up"} else "stiles"), False
    return "long", True


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
        edges, either = _edges(infills)
        return replace(
            found, solidity=solid, on_edges=force, force=force, edges=edges, either=either
        )
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
