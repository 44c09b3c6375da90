"""Seams in the maker's words: what a weld is, what of it counts, and what would mend it."""

from __future__ import annotations

import math
from fractions import Fraction

from leafwright import units
from leafwright.handbook import aws
from leafwright.handbook.weld_shapes import BLUNTEST_FILLET, SHARPEST_FILLET, SHARPEST_WELD
from leafwright.job.model import Job
from leafwright.proof.seam_group import Group
from leafwright.proof.seam_parts import ROOT_GAP, Piece, WeldedEnd
from leafwright.proof.seam_sizes import Size, Welding, joined, thinner
from leafwright.records import Metres, Newtons, Number
from leafwright.units.typed import mixed

_INCH = 0.0254


class SeamWords:
    """Words about seams in the units of a job."""

    def __init__(self, job: Job, how: Welding) -> None:
        self.metric = job.job.system == "metric"
        self.unit = "millimetre" if self.metric else "inch"
        # Told at every end.
        self.metal = units.show_stress(how.metal.value, "mm" if self.metric else "feet-inch")

    def size(self, metres: Metres) -> str:
        """Return a size: as a fraction of an inch where it is one, else to a thousandth; or mm."""
        if self.metric:
            return f"{1000.0 * metres:.1f}".removesuffix(".0") + " mm"
        parts = metres / _INCH * 32.0
        if abs(parts - round(parts)) < 1e-6 and round(parts) > 0:
            return f"{mixed(Fraction(round(parts), 32))} in"
        return f"{metres / _INCH:.3f} in"

    def next_size(self, metres: Metres) -> str:
        """Return the next leg up that a welder sets: a sixteenth of an inch or a millimetre."""
        if self.metric:
            return f"{math.ceil(metres / 0.001 - 1e-6)} mm"
        return f"{mixed(Fraction(math.ceil(metres / _INCH * 16 - 1e-6), 16))} in"

    def force(self, newtons: Newtons) -> str:
        """Return a force."""
        return units.show_force(newtons, "mm" if self.metric else "feet-inch")

    def sheet(self, end: WeldedEnd) -> str:
        """Return what to add to a clause where a wall is thinner than AWS D1.1 covers."""
        walls = [thinner(end, piece.landing) for piece in end.pieces]
        thin = min(walls, default=math.inf) < aws.LEAST_PLATE * (1.0 - 1e-9)
        return f"; AWS D1.3 for a wall under {self.size(aws.LEAST_PLATE)}" if thin else ""

    def weld(self, piece: Piece, size: Size) -> str:
        """Return what a piece of a seam is, with its size."""
        throat = self.size(size.throat)
        trial = ", to be shown by a trial joint" if size.trial else ""
        if piece.kind == "flare-bevel":
            return f"a flare-bevel in the round corner, filled flush, throat {throat}{trial}"
        if piece.kind == "square groove" or size.leg is None:
            return f"a square groove, root open, throat {throat}{trial}"
        angle = math.degrees(piece.angle)
        skewed = "" if abs(angle - 90.0) < 0.01 else f" in a corner of {angle:.0f}°"
        narrow = f" on a shelf of {self.size(piece.shelf)}" if piece.shelf < size.leg else ""
        return f"a fillet of {self.size(size.leg)}{skewed}{narrow}, throat {throat}"

    def rule(self, group: Group, piece: int) -> str:
        """Return how the check of an end's seams came about, one piece being used most."""
        most, size = group.end.pieces[piece], group.sizes[piece]
        text = (
            "the greatest force on each length of the seams round it, worked as lines; most "
            f"used is that {_where(most.face)}: {self.weld(most, size)}, in metal "
            f"of {self.metal}; strengths are for each {self.unit} of weld"
        )
        if size.width is not None:
            text += (
                f"; of its {self.size(most.length)} the outer {self.size(size.width / 2)} at "
                "either end carry (K5)"
            )
        if group.end.gap > ROOT_GAP * (1.0 + 1e-9) and size.leg is not None:
            text += f"; of each leg {self.size(group.end.gap)} is lost in the root gap"
        if group.end.bare:
            text += f"; {group.end.bare}, {self.size(group.end.bare_length)} long"
        left = self.uncounted(group)
        return f"{text}; {left}" if left else text

    def uncounted(self, group: Group) -> str:
        """Return which seams round an end count for nothing and why, or ''."""
        why: dict[str, list[str]] = {}
        for piece, size in zip(group.end.pieces, group.sizes, strict=True):
            if size.counts:
                continue
            reason = self._nothing(group.end, piece, size)
            if piece.face not in why.setdefault(reason, []):
                why[reason].append(piece.face)
        return "; ".join(
            f"not counted: that {', '.join(map(_where, faces))}, {reason}"
            for reason, faces in why.items()
        )

    def _nothing(self, end: WeldedEnd, piece: Piece, size: Size) -> str:
        angle = f"{math.degrees(piece.angle):.0f}°"
        if piece.kind == "none":
            return "which stands over the side of the tube it should lie on"
        if piece.kind == "square groove":
            return "too thick for a square groove: bevel the edges"
        if piece.angle < SHARPEST_WELD:
            return f"a corner of {angle}, under 30°, where no weld counts"
        if piece.angle < SHARPEST_FILLET:
            left = f"leaves {self.size(size.throat)} of throat" if size.throat else "takes all"
            return (
                f"a corner of {angle}, where what is lost at the root {left} of so small a fillet"
            )
        if piece.angle > BLUNTEST_FILLET:
            return f"a corner of {angle}, over 135°, where a fillet is none"
        if size.leg is not None and size.leg <= end.gap:
            return "a root gap as wide as its leg"
        return f"no shelf beside it on the {joined(end, piece.landing)[1].role}"

    def would(self, piece: Piece, size: Size, ratio: Number) -> str:
        """Return what would mend a piece of seam that is used so much."""
        demand = ratio * size.holds
        if demand > size.beside:
            return (
                "no weld on so thin a wall may carry that (J4.2): a thicker wall, a wider member, "
                "a brace or a gusset"
            )
        by = demand / size.metal
        if size.leg is not None:
            return f"about {self.next_size(size.leg * by)} of fillet, a wider member or a gusset"
        throat = self.size(size.throat * by)
        return f"about {throat} of throat (bevel the edge), a wider member or a gusset"


def _where(face: str) -> str:
    """Return where a seam lies, in words."""
    side, _, onto = face.partition(" on ")
    if side in ("face", "back"):
        words = f"on its {side}"
    elif side == "round":
        words = "round it"
    else:
        words = f"along its {side} edge"
    return f"{words}, at the {onto}" if onto else words
