"""What is known of the anchors under the pivot plates, and what of it is still to be brought."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from leafwright.handbook.aci318 import Kind
from leafwright.job.model import Building, Job
from leafwright.records import Metres, Newtons, Pascals

#: Words that name a kind of anchor, the first that is found in what the maker typed.
_KINDS: tuple[tuple[str, Kind], ...] = (
    ("headed stud", Kind.HEADED_STUD),
    ("cast", Kind.HEADED_BOLT),
    ("headed", Kind.HEADED_BOLT),
    ("undercut", Kind.UNDERCUT),
    ("adhesive", Kind.ADHESIVE),
    ("epoxy", Kind.ADHESIVE),
    ("resin", Kind.ADHESIVE),
    ("chemical", Kind.ADHESIVE),
    ("bonded", Kind.ADHESIVE),
    ("screw", Kind.SCREW),
    ("drop-in", Kind.DISPLACEMENT_CONTROLLED),
    ("drop in", Kind.DISPLACEMENT_CONTROLLED),
    ("displacement", Kind.DISPLACEMENT_CONTROLLED),
    ("wedge", Kind.TORQUE_CONTROLLED),
    ("sleeve", Kind.TORQUE_CONTROLLED),
    ("torque", Kind.TORQUE_CONTROLLED),
    ("expansion", Kind.TORQUE_CONTROLLED),
)
KIND_WORDS = '"screw", "wedge", "drop-in", "undercut", "adhesive" or "cast-in headed"'

#: Countries whose anchors go by European assessments: EU, EFTA and the United Kingdom, ISO 3166.
_EUROPE: Final = (
    "EU AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK "
    "CH IS LI NO GB UK EUROPE"
)


@dataclass(frozen=True, slots=True)
class AnchorData:
    """One anchor with its product's values, and the concrete; None where not known.

    ``edge`` is from the outermost anchor to the nearest edge where the job gives it so,
    ``pivot_edge`` from the pivot. ``missing`` is what is still to be written in the job.
    """

    kind: Kind | None
    size: Metres | None
    embedment: Metres | None
    report: str
    h_ef: Metres | None
    steel_tension: Newtons | None
    steel_shear: Newtons | None
    pullout: Newtons | None
    category: int | None
    cracked: bool
    concrete: Pascals | None
    thickness: Metres | None
    edge: Metres | None
    pivot_edge: Metres | None
    missing: tuple[str, ...]


def european(job: Job) -> bool:
    """Return whether anchors go by EN 1992-4 and European assessments."""
    return job.basis.country.strip().upper() in _EUROPE.split() or job.basis.steel.startswith("EN ")


def kind_of(words: str) -> Kind | None:
    """Return the kind of anchor that a maker's words mean; None where they mean none."""
    plain = words.lower()
    return next((kind for word, kind in _KINDS if word in plain), None)


def anchor_data(job: Job) -> AnchorData:
    """Return what the job says of its anchors."""
    b = job.building
    anchor = b.anchor
    found = AnchorData(
        kind=kind_of(anchor.kind) if anchor else None,
        size=anchor.size.si if anchor and anchor.size else None,
        embedment=anchor.embedment.si if anchor and anchor.embedment else None,
        report=anchor.report.strip() if anchor else "",
        h_ef=anchor.effective_embedment.si if anchor and anchor.effective_embedment else None,
        steel_tension=anchor.steel_tension.si if anchor and anchor.steel_tension else None,
        steel_shear=anchor.steel_shear.si if anchor and anchor.steel_shear else None,
        pullout=anchor.pullout.si if anchor and anchor.pullout else None,
        category=int(anchor.category) if anchor and anchor.category else None,
        cracked=anchor is None or anchor.cracked == "yes",
        concrete=b.concrete_strength.si if b.concrete_strength else None,
        thickness=b.slab_thickness.si if b.slab_thickness else None,
        edge=anchor.edge_distance.si if anchor and anchor.edge_distance else None,
        pivot_edge=b.slab_edge.si if b.slab_edge else None,
        missing=(),
    )
    return replace(found, missing=tuple(_missing(found, b)))


def _missing(data: AnchorData, b: Building) -> list[str]:
    """Return what is still to be written or brought, each in a word or two."""
    typed = "" if b.anchor is None else b.anchor.kind
    said = typed not in ("", "unknown")
    asked = (
        (data.kind is None, f"kind as {KIND_WORDS}" + (f", not {typed!r}" if said else "")),
        (data.size is None, "size"),
        (not data.report, "report"),
        (data.h_ef is None, "effective_embedment"),
        (data.steel_tension is None, "steel_tension"),
        (data.steel_shear is None, "steel_shear"),
        (data.pullout is None and data.kind is not Kind.ADHESIVE, "pullout"),
        (data.concrete is None, "concrete_strength"),
        (data.thickness is None, "slab_thickness"),
        (data.edge is None and data.pivot_edge is None, "slab_edge"),
        (data.kind is Kind.ADHESIVE, "an engineer's word on the bond, which nothing here proves"),
    )
    return [words for absent, words in asked if absent]
