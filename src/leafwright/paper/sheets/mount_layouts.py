"""Where the holes of a pivot's plates are, as far as the job and the proof place them."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.mount import Mounting
from leafwright.mount.envelope import floor_pivot
from leafwright.mount.head_loads import BoltKind
from leafwright.mount.layouts import told_anchors, told_bolts
from leafwright.mount.plate_loads import Layout
from leafwright.paper.sheets.common import Desk
from leafwright.paper.sheets.mount_parts import plain, shown, steel_words


@dataclass(frozen=True, slots=True)
class Holes:
    """The holes of one plate, from its middle, its length along x [m].

    ``across`` is the diameter that is drawn, None where it is not known. ``lacking`` are the keys
    to write; where there are any, the holes stand where the proof takes them, or nowhere.
    ``words`` say what they are for.
    """

    layout: Layout | None
    across: float | None
    bolt: float
    words: str
    lacking: tuple[str, ...]

    @property
    def given(self) -> bool:
        """Return whether the job itself places them."""
        return self.layout is not None and not self.layout.defaults


def anchor_holes(at: Desk, m: Mounting) -> Holes:
    """Return the holes of a floor plate for its anchors."""
    anchor = m.job.building.anchor
    found, lacking = told_anchors(m)
    if found is None or anchor is None or anchor.per_plate is None or anchor.size is None:
        return Holes(None, None, 0.0, "anchors", lacking)
    number, d = int(anchor.per_plate), anchor.size.si
    kind = "" if anchor.kind == "unknown" else f"{plain(anchor.kind)} "
    words = (
        f"{number} {kind}anchors, {shown(at, d)}: holes by their report, drilled through in place"
    )
    if number == 1:
        words = words.replace("anchors", "anchor").replace("holes", "hole")
    layout = None if isinstance(found, str) else found
    spaced: list[str] = []
    if layout is not None:
        taken = {q.key.rsplit(" ", 1)[-1] for q in layout.defaults}
        spaced = [f"building.anchor.spacing_{way}" for way in ("along", "across") if way in taken]
    return Holes(layout, d, d, words, tuple(spaced))


def bolt_holes(at: Desk, m: Mounting) -> Holes:
    """Return the holes of a top plate for its bolts."""
    mount = floor_pivot(m)
    bolt, number, gauge = mount.bolt, mount.top_bolts, mount.bolt_gauge
    found, kind, lacking = told_bolts(m)
    if bolt is None or not isinstance(kind, BoltKind) or found is None:
        lacking = lacking or (() if mount.top_plate is None else ("bolt.size",))
        return Holes(None, None, 0.0, "bolts", lacking)
    hole = None if bolt.hole is None else bolt.hole.si
    drilled = "not given, write bolt.hole" if hole is None else f"{shown(at, hole)} dia."
    words = f"{number} bolts {plain(bolt.size)}, {steel_words(bolt.grade)}; holes {drilled}"
    layout = None if isinstance(found, str) else found
    asked = [] if hole is not None else ["bolt.hole"]
    asked += [] if gauge is not None else ["bolt_gauge"]
    return Holes(layout, hole or kind.d, kind.d, words, tuple(asked))
