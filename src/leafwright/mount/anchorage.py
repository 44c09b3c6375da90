"""One plate's anchors with the loads on them, the ways in which they fail, and a check of each."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from leafwright.chain import Quantity
from leafwright.mount.parts import made_check, relied_on
from leafwright.mount.plate_loads import Layout, State, worked_shear, worked_state
from leafwright.mount.records import Mounting
from leafwright.proof.anchor_data import AnchorData
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, Newtons, Number


@dataclass(frozen=True, slots=True)
class Anchorage:
    """Anchors of a floor plate: where they are, what pulls and pushes, and what is known of them.

    ``edge`` is from the outermost anchor to the slab's nearest edge [m]; None where not known.
    ``factored`` says how the loads were brought to strength, in words.
    """

    m: Mounting
    layout: Layout
    states: tuple[State, ...]
    data: AnchorData
    edge: Metres | None
    factored: str

    @property
    def number(self) -> int:
        """Return how many anchors the plate has."""
        return len(self.layout.points)

    @property
    def pulled(self) -> State:
        """Return the state that pulls hardest on one anchor."""
        return max(self.states, key=lambda state: state.most)

    @property
    def pushed(self) -> State:
        """Return the state that pushes hardest across."""
        return max(self.states, key=lambda state: state.load.shear)


def category_of(a: Anchorage) -> int:
    """Return an anchor's category, the worst where its report's is not given."""
    return a.data.category or int(relied_on(a.m, "anchor category").value)


def mildest_steel(m: Mounting) -> dict[str, Quantity]:
    """Return the strengths whose partial factors an anchor's steel is given by EN 1992-4 [Pa]."""
    return {
        "f_uk": relied_on(m, "anchor tensile strength", "tensile strength of an anchor's steel"),
        "f_yk": relied_on(m, "anchor yield", "yield stress of an anchor's steel"),
    }


def taken_of(a: Anchorage, *, by_en: bool) -> tuple[Quantity, ...]:
    """Return the defaults that the checks of a plate's anchors rest on."""
    found: list[Quantity] = []
    if a.data.size is None:
        found.append(relied_on(a.m, "anchor size"))
    if a.data.category is None and not (a.data.kind is not None and a.data.kind.cast_in):
        found.append(relied_on(a.m, "anchor category"))
    if by_en and not (a.data.steel_tension is None and a.data.steel_shear is None):
        found += mildest_steel(a.m).values()
    return tuple(found)


#: What is left of a mode's strength when its factor is in it [N]; None where data is missing.
Strength = Callable[[Anchorage, State, Lines], Newtons | None]


@dataclass(frozen=True, slots=True)
class Mode:
    """One way in which anchors fail, by one clause.

    ``pull`` is whether a pull or a push across does it; ``all_of_them`` whether the strength is
    that of all anchors together or of one; ``by_state`` whether it hangs on which of them pull.
    """

    tail: str
    question: str
    clause: str
    pull: bool
    all_of_them: bool
    by_state: bool
    strength: Strength
    rule: str
    change: str

    def demand(self, state: State) -> Newtons:
        """Return what a state asks of this mode [N]."""
        if self.pull:
            return sum(state.tension) if self.all_of_them else state.most
        return state.load.shear / (1 if self.all_of_them else len(state.tension))

    def uses(self, a: Anchorage) -> tuple[Number, ...] | None:
        """Return what each state uses of the strength [-]; None where data is missing."""
        known = self.strength(a, a.states[0], Lines())
        if known is None:
            return None
        found = []
        for state in a.states:
            demand = self.demand(state)
            held: Newtons | None = known
            if self.by_state and demand > 0.0:
                held = self.strength(a, state, Lines())
            found.append(demand / held if held else math.inf)
        return tuple(found)


#: A mode with what each state uses of it [-]; None where its data is missing.
Used = tuple[Mode, tuple[Number, ...] | None]


def used(a: Anchorage, modes: Sequence[Mode]) -> tuple[Used, ...]:
    """Return every mode with what each state uses of it."""
    return tuple((mode, mode.uses(a)) for mode in modes)


def mode_checks(a: Anchorage, modes: Sequence[Used], document: str) -> list[Check]:
    """Return a check of every mode for which the data is there, in its hardest state."""
    found = []
    for mode, uses in modes:
        if uses is None:
            continue
        state = a.states[uses.index(max(uses))]
        lines = Lines()
        worked_state(a.layout, state, lines)
        if not mode.pull:
            worked_shear(a.layout, state, lines)
        held = mode.strength(a, state, lines)
        demand, none = mode.demand(state), "nothing pulls: the weight on the plate holds it down; "
        found.append(
            anchor_check(
                a,
                mode.tail,
                mode.question,
                document=document,
                clause=mode.clause,
                demand=demand,
                available=held or 0.0,
                unit="N",
                case=state.load.case,
                change=mode.change,
                rule=f"{none if mode.pull and not demand else ''}{mode.rule}; {a.factored}",
                lines=lines,
            )
        )
    return found


def together_check(
    a: Anchorage,
    tail: str,
    question: str,
    modes: Sequence[Used],
    joined: Callable[[Number, Number, Lines], Number],
    *,
    document: str,
    clause: str,
    rule: str,
) -> Check | None:
    """Return pull and push at once in the hardest state; None where a mode is not known.

    ``joined`` makes of the greatest use in pull and that across one number, 1 being full.
    """
    if any(uses is None for _, uses in modes):
        return None
    worst: tuple[Number, int, Number, Number] = (-1.0, 0, 0.0, 0.0)
    for i in range(len(a.states)):
        N, V = (
            max(uses[i] for mode, uses in modes if uses and mode.pull is pull)
            for pull in (True, False)
        )
        worst = max(worst, (joined(N, V, Lines()), i, N, V))
    lines = Lines()
    use = joined(worst[2], worst[3], lines)
    return anchor_check(
        a,
        tail,
        question,
        document=document,
        clause=clause,
        demand=use,
        available=1.0,
        unit="1",
        case=a.states[worst[1]].load.case,
        change="mend the one that uses most, pulled or pushed: see the checks above",
        rule=f"{worst[2]:.2f} used in pull and {worst[3]:.2f} across; {rule}; {a.factored}",
        lines=lines,
    )


@dataclass(frozen=True, slots=True)
class Pulling:
    """The anchors that pull in one state: their rows, and what share of the full pattern they are.

    ``spacings_x`` and ``spacings_y`` are of the smallest rectangle of anchors about them [m];
    ``share`` is how many of that rectangle's anchors pull [-].
    """

    spacings_x: tuple[Metres, ...]
    spacings_y: tuple[Metres, ...]
    share: Number


def pulling(layout: Layout, state: State) -> Pulling:
    """Return the rows of the anchors that pull; all of them where none does."""
    tiny = 1e-9 * state.most
    points = [p for p, pull in zip(layout.points, state.tension, strict=True) if pull > tiny]
    points = points or list(layout.points)
    rows = []
    for axis, places in ((0, layout.columns), (1, layout.rows)):
        least, most = min(p[axis] for p in points), max(p[axis] for p in points)
        rows.append([place for place in places if least <= place <= most])
    share = len(points) / (len(rows[0]) * len(rows[1]))
    return Pulling(spacings(rows[0]), spacings(rows[1]), share)


def spacings(places: Sequence[Metres]) -> tuple[Metres, ...]:
    """Return the distances between neighbouring rows [m]."""
    return tuple(b - a for a, b in itertools.pairwise(places))


def anchor_check(
    a: Anchorage,
    tail: str,
    question: str,
    *,
    document: str,
    clause: str,
    demand: float,
    available: float,
    unit: str,
    case: str,
    change: str,
    rule: str,
    lines: Lines,
    unknown: Sequence[str] = (),
    tight_from: Number = 0.9,
) -> Check:
    """Return a check of one plate's anchors, by strength design."""
    made = made_check(
        a.m,
        f"anchors/{tail}",
        "anchors of the floor plate",
        question,
        clause=clause,
        demand=demand,
        available=available,
        unit=unit,
        case=case,
        change=change,
        rule=rule,
        lines=lines,
        unknown=unknown,
        document=document,
        tight_from=tight_from,
    )
    return replace(made, basis="strength design")
