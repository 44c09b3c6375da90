"""What every hole of a leaf is made with: the leaf as it hangs, its tubes, and its words."""

from __future__ import annotations

from dataclasses import dataclass, field

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.mount import Mounting
from leafwright.records import Metres
from leafwright.shop.holes.records import (
    FaceKey,
    Hand,
    Hole,
    HoleKind,
    HoleTool,
    InPlace,
    Plate,
    Through,
    When,
)
from leafwright.shop.holes.tools import cutters
from leafwright.shop.holes.tube import Landing, Tube, landings, side_words, tubes_of

#: The rim of a hole keeps so far from the toe of a weld [m]; the weld's leg is taken as the wall,
#: no less than `LEG` (common practice, no source).
FROM_WELD, LEG = 0.003, 0.005


@dataclass(slots=True)
class Bench:
    """One leaf while its holes are laid out."""

    m: Mounting
    tubes: tuple[Tube, ...]
    landed: dict[str, tuple[Landing, ...]]
    holes: dict[str, list[Hole]] = field(default_factory=dict)
    plates: list[Plate] = field(default_factory=list)
    in_place: list[InPlace] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    asks: list[str] = field(default_factory=list)
    defaults: list[Quantity] = field(default_factory=list)

    @property
    def system(self) -> str:
        """Return the job's system: feet-inch or metric."""
        return self.m.job.job.system

    @property
    def hand(self) -> Hand:
        """Return whose holes they are."""
        key = self.m.key
        return key if key in ("left", "right") else "leaf"  # type: ignore[return-value]

    @property
    def letter(self) -> str:
        """Return the letter that the leaf's marks begin with."""
        return self.m.leaf.members[0].mark.split("-")[0]

    def tube(self, role: str) -> Tube:
        """Return the tube of a role; StopIteration where it is none."""
        return next(t for t in self.tubes if t.member.role == role)

    def side(self, face: FaceKey) -> str:
        """Return a face in the maker's words."""
        return side_words(face, self.m.job.job.seen_from)

    def middle(self, tube: Tube, face: FaceKey) -> Quantity:
        """Return half of a face's width [m]."""
        flat = face in ("face", "back", "round")
        wide = tube.width if flat else tube.depth
        return chain.base(
            "table",
            f"{tube.member.key}/middle of its {'face' if flat else 'edge'}",
            "middle of the face",
            wide / 2.0,
            note=f"half of {tube.member.section.designation}",
        )

    def drill(
        self,
        tube: Tube,
        name: str,
        *,
        use: str,
        kind: HoleKind,
        face: FaceKey,
        along: Quantity,
        diameter: Quantity,
        when: When,
        why: str,
        slot: Metres = 0.0,
        across: Quantity | None = None,
        through: Through = "one wall",
        tools: tuple[HoleTool, ...] | None = None,
        tap_drill: str = "",
    ) -> None:
        """Put a hole into a tube."""
        key = tube.member.key
        self.holes.setdefault(key, []).append(
            Hole(
                key=f"{key}/{name}",
                part=key,
                hand=self.hand,
                label="",
                use=use,
                kind=kind,
                face=face,
                side=self.side(face),
                along=along,
                across=across or self.middle(tube, face),
                diameter=diameter,
                slot=slot,
                through=through,
                depth=0.0,
                tools=tools or cutters(diameter.value, tube.wall, self.system, plate=False),
                tap_drill=tap_drill,
                when=when,
                template="",
                why=why,
            )
        )

    def usual(self, key: str, name: str, inch: Metres, metric: Metres, why: str) -> Quantity:
        """Return a size taken by default, and note that it was [m]."""
        value = metric if self.system == "metric" else inch
        found = chain.base("default", f"holes/{key}", name, value, note=why)
        self.defaults.append(found)
        return found


def bench(m: Mounting) -> Bench:
    """Return a leaf laid out to be drilled."""
    tubes = tubes_of(m.leaf)
    return Bench(m, tubes, {t.member.key: landings(t) for t in tubes})


def weld_clear(tube: Tube) -> Metres:
    """Return how far the rim of a hole stays from where another part lands [m]."""
    return max(tube.wall, LEG) + FROM_WELD
