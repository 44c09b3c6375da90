"""Where the holes of a pivot's plates are, as far as the job and the proof place them."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.mount import Mounting
from leafwright.mount.carrier import carrier_of
from leafwright.mount.envelope import floor_pivot
from leafwright.mount.head_bolts import head_layout
from leafwright.mount.head_loads import bolt_kind, top_plate
from leafwright.mount.plate_loads import Layout, laid_out
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
    plate, anchor = floor_pivot(m).plate, m.job.building.anchor
    if anchor is None or anchor.per_plate is None or anchor.size is None or plate is None:
        lacking = tuple(
            f"building.anchor.{key}"
            for key in ("per_plate", "size")
            if anchor is None or getattr(anchor, key) is None
        )
        return Holes(None, None, 0.0, "anchors", lacking)
    number, d = int(anchor.per_plate), anchor.size.si
    along, across = anchor.spacing_along, anchor.spacing_across
    found = laid_out(
        f"{m.key}/anchors",
        number,
        d,
        (plate.length.si, plate.width.si),
        0.0,
        along=None if along is None else along.si,
        across=None if across is None else across.si,
    )
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
    plate, bolt, number = mount.top_plate, mount.bolt, mount.top_bolts
    kind = None if bolt is None else bolt_kind(bolt)
    if plate is None or bolt is None or number is None or kind is None or isinstance(kind, str):
        lacking = tuple(key for key in ("top_bolts", "bolt") if getattr(mount, key) is None) or (
            () if plate is None else ("bolt.size",)
        )
        return Holes(None, None, 0.0, "bolts", lacking)
    gauge = None if mount.bolt_gauge is None else mount.bolt_gauge.si
    carrier = carrier_of(m)
    width = carrier.width if carrier.width > 0.0 else plate.width.si
    found = head_layout(m, top_plate(m), int(number), gauge, kind.d, width)
    hole = None if bolt.hole is None else bolt.hole.si
    drilled = "not given, write bolt.hole" if hole is None else f"{shown(at, hole)} dia."
    words = f"{number} bolts {plain(bolt.size)}, {steel_words(bolt.grade)}; holes {drilled}"
    layout = None if isinstance(found, str) else found
    asked = [] if hole is not None else ["bolt.hole"]
    asked += [] if gauge is not None else ["bolt_gauge"]
    return Holes(layout, hole or kind.d, kind.d, words, tuple(asked))
