"""What a pivot or hinge carries, its checks in short and its cautions, beside its drawing."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from leafwright import units
from leafwright.mount import LeafMount, Mounting
from leafwright.mount.envelope import PinForce, pin_envelope
from leafwright.mount.hinge_loads import OnHinge, hinge_words, hung_cases, on_hinges
from leafwright.paper.layout import Caution, Column, Table
from leafwright.paper.sheets.common import Desk
from leafwright.paper.sheets.flow import Block, Boxed, Listed, Rows, Says, Title
from leafwright.paper.sheets.mount_parts import plain
from leafwright.records import Check
from leafwright.say import VERDICTS, sentence

FULL_ONES = (
    "With factors of the proof in them where it has any. Every check with its formulas and numbers "
    "is on the Calculation sheets."
)


#: What a dashed part is worth.
DASHED = "What hangs on them is drawn dashed, in proportion only: make nothing from it."


def not_given(keys: Sequence[str], *, dashed: str = DASHED) -> tuple[Caution, ...]:
    """Return the box that says which sizes are not given, and what to write; none where all are."""
    if not keys:
        return ()
    return (
        Caution(
            f"Not given: write {', '.join(keys)} in the job file",
            dashed,
            kind="stop",
        ),
    )


def mind(title: str, cautions: Sequence[str]) -> list[Block]:
    """Return cautions of links in one box; none where there are none."""
    if not cautions:
        return []
    return [Boxed(Caution(title, " ".join(dict.fromkeys(cautions))), 2.7)]


def told(words: Sequence[str]) -> list[Block]:
    """Return what links say, one sentence each; none where they say nothing."""
    return (
        [Listed(tuple(f"{sentence(plain(w)).rstrip('.')}." for w in words), 2.6)] if words else []
    )


def _table(rows: Sequence[tuple[str, str, str]]) -> Table:
    return Table(
        (
            Column("It carries at most", 34.0, bold=True),
            Column("", 22.0, align="right", bold=True),
            Column("When", 84.0),
        ),
        tuple(rows),
        height_mm=2.7,
        title_height_mm=2.4,
    )


def pin_carries(at: Desk, m: Mounting, place: str) -> list[Block]:
    """Return the most that a floor pivot's pin carries each way, and when."""
    forces = pin_envelope(m, place)
    if not forces:
        return []
    show = at.words.force

    def worst(size: Callable[[PinForce], float]) -> PinForce:
        return max(forces, key=size)

    side, down = worst(lambda f: f.shear), worst(lambda f: f.axial)
    lifted, gripped = worst(lambda f: -f.axial), worst(lambda f: f.moment)
    rows = [("Sideways, in any direction", show(side.shear), side.words)]
    if down.axial >= 0.5:
        rows.append(("Down", show(down.axial), down.words))
    if lifted.axial <= -0.5:
        rows.append(("Up: it is pulled", show(-lifted.axial), lifted.words))
    elif place == m.pivots[0]:
        rows.append(("Up", "nothing", "in no case is the leaf lifted off its ball"))
    tips = "0"
    if gripped.moment > 0.0:
        tips = units.show_moment(gripped.moment, at.words.tape.system)
    free = "it tilts within its play in every case"
    rows.append(("Gripped and bent", tips, gripped.words if gripped.moment > 0.0 else free))
    return [Rows(_table(rows))]


def hinges_carry(at: Desk, m: Mounting) -> list[Block]:
    """Return the most that each barrel hinge of a leaf carries each way, and when."""
    every = on_hinges(hung_cases(m))
    show = at.words.force
    rows: list[tuple[str, str, str]] = []
    for place in reversed(m.pivots):
        here = [on for on in every if on.force.place == place]

        def worst(size: Callable[[OnHinge], float], here: Sequence[OnHinge] = here) -> OnHinge:
            return max(here, key=size)

        name = sentence(hinge_words(m, place))
        ways: tuple[tuple[str, Callable[[OnHinge], float]], ...] = (
            ("pulled off the post", lambda on: on.force.out),
            ("pushed at the post", lambda on: -on.force.out),
            ("across the leaf", lambda on: abs(on.force.across)),
            ("weight", lambda on: on.force.up),
        )
        for words, size in ways:
            on = worst(size)
            if size(on) >= 0.5:
                rows.append((f"{name}, {words}", show(size(on)), on.case.words))
        bent = worst(lambda on: on.force.pin_moment)
        if bent.force.pin_moment > 0.0:
            tips = units.show_moment(bent.force.pin_moment, at.words.tape.system)
            rows.append((f"{name}, gripped and bent", tips, bent.case.words))
    return [Rows(_table(rows))]


def checks_in_short(
    at: Desk, m: Mounting, mount: LeafMount, belongs: Callable[[str, Check], bool]
) -> list[Block]:
    """Return one line for each check of a mount's links: verdict, what was asked, and ratio.

    Args:
        at: the plan and its words.
        m: the leaf as it hangs.
        mount: its proof.
        belongs: whether a check of a link is told here.
    """
    # A check that somebody has answered is told as answered.
    answered = {check.key: check for check in at.plan.checks}
    rows = []
    for name, link in mount.links:
        for check in (answered.get(c.key, c) for c in link.checks if belongs(name, c)):
            subject = check.subject.replace(f", of {m.who}", "").replace(f" of {m.who}", "")
            ratio = "–" if check.ratio is None else f"{check.ratio:.2f}"
            asked = f"{sentence(subject)}: {check.question}"
            rows.append((VERDICTS[check.verdict], asked, ratio))
    if not rows:
        return []
    table = Table(
        (
            Column("", 13.0, bold=True),
            Column("Asked", 110.0),
            Column("Ratio", 13.0, align="right", bold=True),
        ),
        tuple(rows),
        height_mm=2.5,
        title_height_mm=2.4,
        padding_mm=1.1,
    )
    return [Title("Its checks in short", 3.6), Rows(table), Says(FULL_ONES, 2.4)]


def cautions_of(mount: LeafMount, *names: str) -> tuple[str, ...]:
    """Return the cautions of a mount's links of these names."""
    return tuple(c for name, link in mount.links if name in names for c in link.cautions)


def words_of_links(mount: LeafMount, *names: str) -> tuple[str, ...]:
    """Return what a mount's links of these names say."""
    return tuple(w for name, link in mount.links if name in names for w in link.words)
