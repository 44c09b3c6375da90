"""Whether a leaf still closes when every length is cut to a mark of the tape.

Rails and stiles cut to the nearest mark make a leaf that much wider or higher, and every panel in
it too; a brace, cut to its own nearest mark, is then a little long or short for the panel it goes
into. Exact geometry: what each brace would need in the frame as cut, against what it is cut to.
"""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.leaf import Leaf, Member
from leafwright.leaf.brace_ends import bar_length, half_length
from leafwright.records import Metres
from leafwright.units import Tape, rounded_to_tape


@dataclass(frozen=True, slots=True)
class Off:
    """One piece that is cut to a mark: ``by`` longer than its place in the frame as cut [m]."""

    key: str
    mark: str
    needed: Metres
    cut: Metres

    @property
    def by(self) -> Metres:
        """Return how much it is too long, less than nothing where it is short [m]."""
        return self.cut - self.needed


@dataclass(frozen=True, slots=True)
class Closure:
    """How a leaf comes out as cut to the tape.

    ``wider`` and ``higher`` are over its width and height, exact [m]; ``pieces`` the mid rails and
    braces against the places they go into; ``tolerance`` one mark of the tape: what may be off and
    still be said to close [m].
    """

    leaf: str
    tolerance: Metres
    wider: Metres
    higher: Metres
    pieces: tuple[Off, ...]

    @property
    def worst(self) -> Off | None:
        """Return the piece that is farthest off, None where there is none."""
        return max(self.pieces, key=lambda off: abs(off.by), default=None)

    @property
    def closes(self) -> bool:
        """Return whether no piece is farther off than the tolerance."""
        worst = self.worst
        return worst is None or abs(worst.by) <= self.tolerance + 1e-12


def _as_cut(leaf: Leaf, member: Member, tape: Tape) -> Metres:
    """Return how much longer than exact a member is cut, in one piece or two [m]."""
    spliced = next((s for s in leaf.splices if s.member == member.key), None)
    lengths = [p.length for p in spliced.pieces] if spliced else [member.length]
    return sum(float(rounded_to_tape(q.value, tape)) - q.value for q in lengths)


def closure_after_rounding(leaf: Leaf, tape: Tape) -> Closure:
    """Return how a leaf comes out when each length is cut to the nearest mark of a tape.

    The edges of the mid rails are taken to be marked out on the stiles by the nearest mark too,
    each from the bottom of the leaf.

    Args:
        leaf: its members.
        tape: that they are cut by.
    """
    rails = sorted((m for m in leaf.members if m.role.endswith("rail")), key=lambda m: m.foot[1])
    stile = next(m for m in leaf.members if m.role == "hanging stile")
    outer = (_as_cut(leaf, rails[0], tape) + _as_cut(leaf, rails[-1], tape)) / 2
    higher = _as_cut(leaf, stile, tape)
    across = [_as_cut(leaf, rail, tape) for rail in rails]
    pieces = [
        Off(rail.key, rail.mark, rail.length.value + outer, rail.length.value + off)
        for rail, off in zip(rails[1:-1], across[1:-1], strict=True)
    ]
    sizes = {}
    deep = rails[0].section.width
    bottom = leaf.panels[0].bottom
    for panel, below, above in zip(leaf.panels, across, across[1:], strict=False):
        top = float(rounded_to_tape(panel.top, tape))
        if panel is leaf.panels[-1]:
            top = panel.top + higher
        wide = panel.right - panel.left + (below + above) / 2
        sizes[panel.number] = (wide, top - bottom)
        bottom = top + deep
    for member in leaf.members:
        if member.role != "brace" or member.stands is None:
            continue
        wide, high = sizes[int(member.key.split("brace-")[1].split("/")[0])]
        bar = member.section.width
        if member.key.endswith(("/lower", "/upper")):
            upper = member.key.endswith("/upper")
            coped = any(cut.saddle for cut in (member.bar.start, member.bar.end))
            needed = half_length(wide, high, bar, *member.stands, of_upper=upper, coped=coped)
        else:
            needed = bar_length(wide, high, bar, *member.stands)
        cut = member.length.value + _as_cut(leaf, member, tape)
        pieces.append(Off(member.key, member.mark, needed, cut))
    return Closure(leaf.key, float(tape.step), outer, higher, tuple(pieces))
