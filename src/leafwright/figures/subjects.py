"""Where each module of the handbook belongs in the shop, and what is said whenever it is used."""

from __future__ import annotations

OTHER = "other"

#: Module of the handbook (or package: then all its modules), and the trade's word for it.
SUBJECTS = {
    "catalogue": "sections",
    "grades": "sections",
    "outlines": "sections",
    "rolled_beams": "sections",
    "sections": "sections",
    "aisc360.bending": "members",
    "aisc360.classification": "members",
    "aisc360.combined": "members",
    "aisc360.compression": "members",
    "aisc360.safety": "members",
    "aisc360.second_order": "members",
    "aisc360.shear": "members",
    "aisc360.tension": "members",
    "en1993": "members",
    "aisc360.joint_limits": "welds",
    "aisc360.round_joints": "welds",
    "aisc360.round_moments": "welds",
    "aisc360.welds": "welds",
    "aisc360.hss_joints": "welds",
    "aisc360.face_moments": "welds",
    "aws": "welds",
    "weld_group": "welds",
    "weld_space": "welds",
    "weld_shapes": "welds",
    "weld_positions": "welds",
    "weld_metal": "welds",
    "weld_shrinkage": "welds",
    "knees": "welds",
    "copes": "welds",
    "welding_use": "welding supplies",
    "mill_tolerances": "sections",
    "aisc360.bolt_holes": "bolts",
    "aisc360.bolts": "bolts",
    "bolts_steel": "bolts",
    "screws": "bolts",
    "aci318": "anchors",
    "en1992_4": "anchors",
    "anchor_group": "anchors",
    "contact": "contact and pivots",
    "friction": "contact and pivots",
    "pins": "contact and pivots",
    "fits": "fits and threads",
    "threads": "fits and threads",
    "wind": "wind",
    "niosh": "lifting",
    "slings": "lifting",
    "electrical": "electrical",
    "thermal": "heat",
    "galvanizing": "galvanizing",
    "piers": "posts and footings",
    "aisc360.connecting": "plates and beams",
    "aisc360.walls": "plates and beams",
    "beams": "plates and beams",
    "plates": "plates and beams",
}

#: The subjects in the order in which they are listed.
ORDER = (
    "sections",
    "members",
    "welds",
    "welding supplies",
    "bolts",
    "anchors",
    "contact and pivots",
    "fits and threads",
    "wind",
    "lifting",
    "electrical",
    "heat",
    "galvanizing",
    "posts and footings",
    "plates and beams",
    OTHER,
)

#: What is said beside every result of a subject that can hurt.
CAUTIONS = {
    "welds": "A strength holds for a sound weld of its full size, made by a procedure that fits.",
    "welding supplies": (
        "A start for a trial: the machine's chart and a trial seam, broken and looked at, rule."
    ),
    "anchors": (
        "It is worth what is known of the concrete. Where slab, edge, steel in it or tendons are "
        "unknown, stop: a licensed engineer answers, with the anchor maker's data sheet."
    ),
    "wind": "The local building code decides the pressure; ask the building department.",
    "posts and footings": (
        "A footing is worth what is known of the ground and the frost: a licensed engineer "
        "answers, with the building department."
    ),
    "lifting": (
        "Nobody under or beside a load that can fall. Slings and gear by their tags; a crane lift "
        "is planned by who is licensed for it."
    ),
    "galvanizing": (
        "A closed tube bursts in the bath. The galvanizer who dips the work says where holes go."
    ),
    "electrical": "Wiring is for a licensed electrician, by the local code.",
}


def subject_of(module: str) -> str:
    """Return the trade's word for a module of the handbook.

    module: its dotted name within the handbook, as in ``aisc360.bending``. `OTHER` where neither
    it nor its package has one yet.
    """
    name = module
    while name:
        if name in SUBJECTS:
            return SUBJECTS[name]
        name = name.rpartition(".")[0]
    return OTHER
