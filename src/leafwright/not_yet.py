"""What the whole job needs and this version does not do yet."""

from __future__ import annotations

from leafwright.records import Held

#: What the whole job needs and this version does not do yet, each said in every plan.
NOT_YET: tuple[tuple[str, Held], ...] = (
    (
        "give",
        Held(
            "what posts, beam and pins give is told with each, and is not in the leaf's sag yet",
            ("the lean and the sag among the checks of what holds the leaf",),
        ),
    ),
    (
        "sliders",
        Held("top-hung sliders are not there yet", ("leaves on floor pivots or barrel hinges",)),
    ),
    ("price", Held("the price is not worked out yet", ("the maker's own reckoning",))),
)
