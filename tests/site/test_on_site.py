"""The site stage of a whole job: readings taken on site, wishes of the crew, and what stops."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from leafwright.documents.of_plan import stand_document
from leafwright.doorway.swing import Swing
from leafwright.job.file import read_job
from leafwright.job.on_site import Site as SiteTable
from leafwright.pipeline import Plan, plan
from leafwright.records import Held, Verdict, to_json
from leafwright.site.as_built import Resplit
from leafwright.site.drift import Drift
from leafwright.site.fit_up import FitUp
from leafwright.site.hung import Hung
from leafwright.site.made import refit_words
from leafwright.site.packers import Packing
from leafwright.site.records import LeafOnSite, Site
from leafwright.site.tilt_in import Obstructed, PosePath, TiltIn
from leafwright.units import Tape, read_length, show_length

INCH = 0.0254
TAPE = Tape("feet-inch", 16)
EXAMPLES = Path(__file__).parents[2] / "examples"
TEXT = (EXAMPLES / "boathouse.toml").read_text(encoding="utf-8")

#: The left leaf's design, near enough: 4'-10 15/16 wide and 13'-9 high.
WIDTH, HEIGHT = 58.94, 165.0


def planned(more: str = "", text: str = TEXT) -> Plan:
    return plan(read_job(f"{text}\n{more}"), upto="site")


def site_of(made: Plan) -> Site:
    assert isinstance(made.site, Site), made.site
    return made.site


def leaf_of(made: Plan, key: str) -> LeafOnSite:
    (one,) = (leaf for leaf in site_of(made).leaves if leaf.key == key)
    return one


def fit_up(kind: str, value: str, *, leaf: str = "left", stage: str = "tacked", **more: str) -> str:
    keys = {"kind": kind, "leaf": leaf, "stage": stage, "is": value, **more}
    lines = [f"{key.rstrip('_')} = {value!r}" for key, value in keys.items()]
    return "\n".join(["[[fit_up]]", *lines, ""])


def distance(first: str, second: str, inches: float, **more: str) -> str:
    return fit_up("distance", f"{inches:.4f} in", from_=first, to=second, **more)


def square_leaf(longer: float = 0.0, **more: str) -> str:
    """Return the readings of a leaf whose one diagonal is longer by so much, in inches."""
    diagonal = (WIDTH**2 + HEIGHT**2) ** 0.5
    return "\n".join(
        [
            distance("bottom hinge", "bottom closing", WIDTH, **more),
            distance("top hinge", "top closing", WIDTH, **more),
            distance("bottom hinge", "top hinge", HEIGHT, **more),
            distance("bottom closing", "top closing", HEIGHT, **more),
            distance("bottom hinge", "top closing", diagonal + longer / 2, **more),
            distance("top hinge", "bottom closing", diagonal - longer / 2, **more),
        ]
    )


@pytest.fixture(scope="module")
def bare() -> Plan:
    return planned()


def test_without_readings_everything_planned_is_there_and_nothing_read(bare: Plan) -> None:
    assert bare.for_cutting
    for leaf in site_of(bare).leaves:
        assert isinstance(leaf.tilt_in, TiltIn)
        assert isinstance(leaf.tilt_in.best, PosePath)
        assert isinstance(leaf.drift, Drift)
        read = (leaf.tacked, leaf.welded, leaf.as_built, leaf.hung, leaf.packing)
        assert all(one is None for one in read)
        assert leaf.let_go == ()


def test_a_plan_that_stops_before_says_so() -> None:
    made = plan(read_job(TEXT), upto="shop")
    assert isinstance(made.site, Held)
    assert "shop" in made.site.why


def test_what_does_not_touch_the_site_is_taken_from_the_plan_before(bare: Plan) -> None:
    job = read_job(TEXT.replace('kerf = "0.094 in"', 'kerf = "0.125 in"'))
    assert plan(job, upto="site", previous=bare).site is bare.site


def test_a_leaf_out_of_square_says_which_corner_to_push() -> None:
    made = leaf_of(planned(square_leaf(0.5)), "left")
    assert isinstance(made.tacked, FitUp)
    rack = next(push for push in made.tacked.pushes if push.key == "rack")
    # The diagonal from the hinge's bottom is the long one: its far end goes back.
    assert rack.place == "top closing corner"
    assert rack.toward == "bottom hinge corner"
    assert leaf_of(planned(square_leaf(0.5)), "right").tacked is None


def test_a_reading_set_aside_does_not_count() -> None:
    aside = square_leaf(0.5).replace("kind =", "set_aside = 'tape slipped'\nkind =")
    assert leaf_of(planned(aside), "left").tacked is None


def test_a_leaf_that_is_out_does_not_keep_the_other_from_being_cut() -> None:
    made = planned(square_leaf(2.0))
    assert any(c.verdict is Verdict.SHORT for c in site_of(made).checks)
    assert made.for_cutting


def test_places_along_both_edges_may_be_at_unlike_heights() -> None:
    slant = ((WIDTH**2) + 24.0**2) ** 0.5
    more = square_leaf() + distance("hinge@60in", "closing@84in", slant)
    made = leaf_of(planned(more), "left")
    assert isinstance(made.tacked, FitUp)
    assert made.tacked.suspects == ()


def test_floor_points_give_packers() -> None:
    points = [("0 in", "0 in", "0 in"), ("58 in", "0 in", "-0.25 in"), ("0 in", "160 in", "0 in")]
    more = "\n".join(fit_up("height", h, x=x, y=y) for x, y, h in points)
    made = leaf_of(planned(more), "left").packing
    assert isinstance(made, Packing)
    assert [p.needed for p in made.packers] == pytest.approx([0.0, 0.25 * INCH, 0.0], abs=1e-9)


def widths(made: Plan) -> dict[str, float]:
    assert not isinstance(made.doorway, Held)
    return {p.key: p.on_sheet.value / INCH for p in made.doorway.leaves}


def right_members(made: Plan) -> dict[str, float]:
    (leaf,) = (one for one in made.leaves if not isinstance(one, Held) and one.key == "right")
    return {m.key: m.length.value / INCH for m in leaf.members}


def test_once_a_leaf_is_welded_the_other_ones_sheet_follows(bare: Plan) -> None:
    wide = square_leaf(stage="welded").replace(
        distance("top hinge", "top closing", WIDTH, stage="welded"),
        distance("top hinge", "top closing", WIDTH + 0.25, stage="welded"),
    )
    made = planned(wide)
    split = site_of(made).resplit
    assert isinstance(split, Resplit)
    assert not isinstance(made.doorway, Held)
    right = next(p for p in made.doorway.leaves if p.key == "right")
    before = widths(bare)
    # The design that the left leaf was cut to stays; the right one is what is left beside it.
    assert widths(made)["left"] == pytest.approx(before["left"], abs=1e-6)
    assert widths(made)["right"] == pytest.approx(before["right"] - 0.25, abs=0.02)
    assert split.width == pytest.approx(right.width.value, abs=1e-9)
    hung = next(g for g in made.doorway.gaps if g.key == "doorway/meeting gap as hung")
    assert hung.value == pytest.approx(0.25 * INCH, abs=1e-6)
    # Every rail of the right leaf is shorter, and the cut list says the same.
    shorter = {k: v - right_members(made)[k] for k, v in right_members(bare).items()}
    assert max(shorter.values()) == pytest.approx(0.25, abs=0.02)
    assert min(gap.gaps.meeting for gap in split.gaps) == pytest.approx(0.25 * INCH, abs=1e-6)
    both = wide + square_leaf(stage="welded", leaf="right")
    assert site_of(planned(both)).resplit is None


def test_a_width_typed_for_the_second_leaf_leaves_the_welded_one_as_it_was_cut(bare: Plan) -> None:
    narrow = square_leaf(stage="welded")
    text = TEXT.replace('hand = "right"', 'hand = "right"\nwidth = "4\'-10 11/16"')
    assert text != TEXT
    found = widths(planned(narrow, text))
    assert found["left"] == pytest.approx(widths(bare)["left"], abs=1e-6)
    assert found["right"] == pytest.approx(58.6875, abs=1e-6)


SECOND = 'hand = "right"'


@pytest.mark.parametrize(
    ("came_out", "typed", "cut_to", "asks"),
    [
        # Cut to an equal share, and came out so: a width far from what it leaves was typed since.
        (WIDTH, "4'-10 1/2", WIDTH, False),
        # The other was typed 3/4 in narrower before; this one was cut 3/4 in wider, and is.
        # Or it was cut to an equal share, came out 3/4 in wide, and the other was typed to suit.
        (WIDTH + 0.75, "4'-10 3/16", WIDTH + 0.75, True),
        # Neither: it came out just between the two.
        (WIDTH + 0.125, "4'-10 11/16", WIDTH, True),
    ],
)
def test_what_a_welded_leaf_was_cut_to_is_decided_on_how_it_came_out(
    came_out: float, typed: str, cut_to: float, asks: bool
) -> None:
    wide = square_leaf(stage="welded").replace(f"{WIDTH:.4f} in", f"{came_out:.4f} in")
    wide = wide.replace(
        f"{(WIDTH**2 + HEIGHT**2) ** 0.5:.4f} in", f"{(came_out**2 + HEIGHT**2) ** 0.5:.4f} in"
    )
    made = planned(wide, TEXT.replace(SECOND, f'{SECOND}\nwidth = "{typed}"'))
    left, right = widths(made)["left"], widths(made)["right"]
    asked = [c for c in made.checks if c.key == "left/as made/cut to"]
    assert bool(asked) is asks
    if not asks or came_out != WIDTH + 0.125:
        assert left == pytest.approx(cut_to, abs=0.03)
    for check in asked:
        assert check.verdict is Verdict.ASK
        assert "write the width that the left leaf was cut to in its [[leaf]]" in check.change
    # Asked or not, the second leaf is as wide as it was typed.
    assert right == pytest.approx(float(read_length(typed).si) / INCH, abs=1e-6)


def test_the_question_is_closed_by_the_width_that_the_welded_leaf_was_cut_to() -> None:
    wide = square_leaf(stage="welded").replace(f"{WIDTH:.4f} in", f"{WIDTH + 0.125:.4f} in")
    text = TEXT.replace(SECOND, f'{SECOND}\nwidth = "4\'-10 11/16"')
    text = text.replace('hand = "left"\n', 'hand = "left"\nwidth = "4\'-10 15/16"\n')
    made = planned(wide, text)
    assert not [c for c in made.checks if c.key == "left/as made/cut to"]


def welded(hinge: float, closing: float) -> str:
    """Return the readings of a leaf welded with these heights at its two edges, in inches."""
    low, high = ((0.0, 0.0), (WIDTH, 0.0)), ((0.0, hinge), (WIDTH, closing))
    across = math.dist(low[0], high[1]), math.dist(low[1], high[0])
    more = {"stage": "welded"}
    return "\n".join(
        [
            distance("bottom hinge", "bottom closing", WIDTH, **more),
            distance("top hinge", "top closing", math.dist(*high), **more),
            distance("bottom hinge", "top hinge", hinge, **more),
            distance("bottom closing", "top closing", closing, **more),
            distance("bottom hinge", "top closing", across[0], **more),
            distance("top hinge", "bottom closing", across[1], **more),
        ]
    )


@pytest.mark.parametrize(
    ("hinge", "closing"), [(165.25, 165.25), (164.75, 164.75), (165.0, 165.25)]
)
def test_tops_agree_once_a_leaf_is_welded(bare: Plan, hinge: float, closing: float) -> None:
    made = planned(welded(hinge, closing))
    assert not isinstance(made.doorway, Held) and not isinstance(bare.doorway, Held)
    places = {p.key: p for p in made.doorway.leaves}
    # Both stand on one line; the second one's top meets the first one's at the closing edge.
    assert places["right"].height.value == pytest.approx(closing * INCH, abs=2e-4)
    assert places["left"].height.value == pytest.approx(max(hinge, closing) * INCH, abs=2e-4)
    assert places["left"].height_on_sheet.value == pytest.approx(165.0 * INCH, abs=1e-9)
    assert places["left"].bottom.value == pytest.approx(bare.doorway.leaves[0].bottom.value)
    # The welded leaf keeps the design that it was cut to; every stile of the other follows.
    left, right = (leaf for leaf in made.leaves if not isinstance(leaf, Held))
    assert left.height == pytest.approx(165.0 * INCH)
    assert right.height == pytest.approx(closing * INCH, abs=2e-4)
    # The gap over both is set from the taller.
    tallest = max(p.height.value for p in made.doorway.leaves)
    assert made.doorway.transom is not None and made.doorway.top_gap is not None
    line = made.doorway.leaves[0].bottom.value + tallest + made.doorway.top_gap.value
    assert made.doorway.transom.near_edge.value == pytest.approx(line)
    split = site_of(made).resplit
    assert isinstance(split, Resplit)
    assert any("so that its top agrees" in said for said in split.words) is (closing != 165.0)
    assert any("so that its top agrees" in w for w in refit_words(made.doorway, tape=TAPE))


def test_a_height_that_was_not_read_welded_is_asked_for() -> None:
    more = {"stage": "welded"}
    made = planned(
        distance("bottom hinge", "bottom closing", WIDTH, **more)
        + distance("top hinge", "top closing", WIDTH, **more)
    )
    assert not isinstance(made.doorway, Held)
    assert {p.height.value for p in made.doorway.leaves} == {165.0 * INCH}
    assert any(
        "was not read: read it before the right leaf is cut" in said
        for said in refit_words(made.doorway, tape=TAPE)
    )


def test_a_width_typed_too_wide_for_what_the_welded_leaf_leaves_stops_the_saw() -> None:
    text = TEXT.replace('hand = "right"', 'hand = "right"\nwidth = "4\'-11 3/4"')
    made = planned(square_leaf(stage="welded"), text)
    assert not made.for_cutting
    assert any(stop.key == "doorway/left over" for stop in made.stops)


@pytest.mark.parametrize(
    ("readings", "says"),
    [
        (distance("bottom hinge", "bottom closing", WIDTH, stage="welded"), "at the top"),
        (square_leaf(1.0, stage="welded").replace("175.7", "177.7"), "do not agree"),
        (
            distance("bottom hinge", "bottom closing", WIDTH + 12, stage="welded")
            + distance("top hinge", "top closing", WIDTH, stage="welded"),
            "over its sheet",
        ),
    ],
)
def test_a_welded_leaf_that_is_not_known_stops_the_other_one(readings: str, says: str) -> None:
    made = planned(readings)
    (stop,) = (s for s in made.stops if s.key == "left/as made")
    assert says in stop.why
    assert not made.for_cutting


def test_a_plan_with_a_made_leaf_is_reused_where_nothing_changed() -> None:
    text = f"{TEXT}\n{square_leaf(stage='welded')}"
    first = plan(read_job(text), upto="shop")
    again = plan(read_job(text), upto="shop", previous=first)
    assert again.doorway is first.doorway
    assert all(a is b for a, b in zip(again.leaves, first.leaves, strict=True))


HUNG = """
[[hung]]
leaf = "left"
kind = "gap"
where = "top"
at = "2 in"
is = "{hinge} in"

[[hung]]
leaf = "left"
kind = "gap"
where = "top"
at = "56 in"
is = "{nose} in"

[[hung]]
leaf = "left"
kind = "plumb"
direction = "in the wall"
over = "150 in"
is = "{off} in"
toward = "right"
"""


def test_a_nose_that_hangs_with_its_axis_moves_the_top_pin() -> None:
    # The axis leans to the right by 1/4 in over 150 in: the nose of a left leaf hangs with it.
    drop = 0.25 / 150 * 54
    made = leaf_of(planned(HUNG.format(hinge=0.5, nose=0.5 + drop, off=0.25)), "left")
    assert isinstance(made.hung, Hung)
    keys = {move.key: move for move in made.hung.moves}
    assert keys["top pin plate/along wall"].by < 0
    assert isinstance(made.drift, Drift)
    assert made.drift.lean == pytest.approx(0.25 / 150, rel=1e-3)


LET_GO = """
[[hung]]
leaf = "left"
kind = "drift"
angle = "45 deg"
rests = "{rests}"
"""


@pytest.mark.parametrize(("rests", "agrees"), [("stays", True), ("10 deg", False)])
def test_what_was_tried_is_held_against_what_was_foretold(rests: str, agrees: bool) -> None:
    (said,) = leaf_of(planned(LET_GO.format(rests=rests)), "left").let_go
    assert ("plumb the axis again" in said) is not agrees


@pytest.mark.parametrize(
    ("lift", "verdicts"),
    [
        ("unknown", {Verdict.ASK}),
        ("by hand", {Verdict.ASK, Verdict.SHORT}),
        ("hoist", {Verdict.ASK}),
    ],
)
def test_hands_are_asked_failed_or_left_out_by_what_lifts(
    lift: str, verdicts: set[Verdict]
) -> None:
    made = planned(f'[site]\nlift = "{lift}"\n')
    found = leaf_of(made, "left").stand_up
    assert {c.verdict for c in found.checks} == verdicts
    # The foot slides on this floor: it is chocked, which is part of the work.
    assert found.cautions[0].startswith("Unless its foot is chocked it slides")
    assert made.for_cutting


def test_a_leaf_that_hands_cannot_stand_up_is_refused_and_the_saw_goes_on() -> None:
    made = planned('[site]\nlift = "by hand"\n')
    stops = stand_document(made).stops
    assert any("NOT to be stood up by hand" in stop.why for stop in stops)
    assert made.for_cutting
    assert not stand_document(planned('[site]\nlift = "hoist"\n')).stops


def test_a_hoist_is_told_where_to_pick_the_leaf_up() -> None:
    made = planned('[site]\nlift = "hoist"\n')
    said = leaf_of(made, "left").stand_up.cautions[-1]
    (leaf,) = (one for one in made.leaves if not isinstance(one, Held) and one.key == "left")
    assert "plumb over its centre of gravity" in said
    assert show_length(leaf.centre[0], Tape("feet-inch", 16)) in said


HAND = '[site]\nlift = "by hand"\npeople = {}\n'


def test_more_people_bear_less() -> None:
    few = leaf_of(planned(HAND.format(2)), "left").stand_up.checks
    many = leaf_of(planned(HAND.format(20)), "left").stand_up.checks
    for one, other in zip(few, many, strict=True):
        if not one.key.endswith("/foot"):
            assert other.demand == pytest.approx((one.demand or 0.0) / 10)


OBSTACLE = """
[[obstacle]]
name = "the slipway winch"
from = ["10 in", "0 in", "{near} in"]
to = ["20 in", "30 in", "{far} in"]
"""


def test_what_stands_in_the_arc_stops_the_saw_and_is_named() -> None:
    made = planned(OBSTACLE.format(near=20, far=30))
    assert not made.for_cutting
    assert any("slipway winch" in stop.why for stop in made.stops)
    clear = planned(OBSTACLE.format(near=90, far=95))
    assert clear.for_cutting


def test_a_leaf_that_no_way_gets_under_the_head_stops_the_saw() -> None:
    # A shelf on each side, right over the floor: nothing can lie down there, or be righted.
    more = "".join(
        f'[[obstacle]]\nname = "the {name} shelf"\n'
        f'from = ["0 in", "60 in", "{near} in"]\nto = ["130 in", "61 in", "{far} in"]\n'
        for name, near, far in (("inner", -200, -6), ("outer", 6, 200))
    )
    made = planned(more)
    for leaf in site_of(made).leaves:
        assert isinstance(leaf.tilt_in, TiltIn)
        assert isinstance(leaf.tilt_in.best, Obstructed)
        assert "shelf" in " ".join(leaf.tilt_in.best.blocks)
    assert any("cannot be stood up" in stop.why for stop in made.stops)


def test_a_pivot_whose_pins_are_not_known_holds_how_it_is_hung() -> None:
    text = TEXT.replace('bottom_pin_length = "5 in"\n', "")
    made = leaf_of(planned(text=text), "left")
    assert isinstance(made.hanging, Held)
    assert made.hanging.needs == ("bottom_pin_length of the mount",)
    assert made.tilt_in == made.hanging


def test_gates_in_the_open_have_nothing_to_pass_under() -> None:
    text = (EXAMPLES / "yard-gate.toml").read_text(encoding="utf-8")
    for leaf in site_of(planned(text=text)).leaves:
        assert isinstance(leaf.tilt_in, Held)
        assert "in the open" in leaf.tilt_in.why


def test_every_wish_of_the_site_has_a_use() -> None:
    # Each of these changes something of the stage; none is read and forgotten.
    start = to_json(site_of(planned()))
    for more in (
        'lift = "hoist"',
        "people = 5",
        'hand_height = "5 ft"',
        "floor_friction = 0.9",
        'kick_out = "20 in"',
        'approach = "away side"',
    ):
        assert to_json(site_of(planned(f"[site]\n{more}\n"))) != start, more
    # Of a leaf that hangs out of square on its axis: what is kept of axis and gaps.
    read = HUNG.format(hinge=0.5, nose=0.3, off=0.25)
    kept = leaf_of(planned(f'{read}\n[site]\nkeep = "even gaps"\n'), "left").hung
    assert to_json(kept) != to_json(leaf_of(planned(read), "left").hung)
    assert set(SiteTable.model_fields) == {
        "lift",
        "people",
        "hand_height",
        "floor_friction",
        "kick_out",
        "approach",
        "keep",
    }


def test_a_leaning_axis_tilts_the_leaf_over_its_floor() -> None:
    # The top stands 2 in toward the viewer over 150 in: an open leaf's nose dips or rises by it.
    more = HUNG.format(hinge=0.5, nose=0.5, off=2).replace(
        'direction = "in the wall"', 'direction = "through the wall"'
    )
    leaning = planned(more.replace('toward = "right"', 'toward = "viewer"'))
    straight, tilted = (
        turn.floor
        for made in (planned(), leaning)
        if isinstance(swing := site_of(made).swing, Swing)
        for turn in swing.leaves[0].turns
        if turn.way == "toward"
    )
    assert straight is not None
    assert tilted is not None
    dip = 2 / 150 * 57 * INCH
    assert abs(float(tilted.gaps[-1, -1] - straight.gaps[-1, -1])) == pytest.approx(dip, rel=0.05)


def test_a_heel_read_with_the_leaf_open_is_held_against_the_swing_there() -> None:
    read = """
[[hung]]
kind = "gap"
leaf = "left"
where = "heel"
at = "6 ft"
is = "1 in"
angle = "45 deg"
"""
    made = planned(read)
    swing = site_of(made).swing
    assert isinstance(swing, Swing)
    turn = next(t for o in swing.leaves if o.key == "left" for t in o.turns if t.way == "toward")
    found = leaf_of(made, "left").hung
    assert isinstance(found, Hung)
    (gap,) = found.gaps
    there = float(np.interp(math.pi / 4, turn.heel.angles, turn.heel.gaps))
    assert gap.planned == pytest.approx(there)
    shut = next(p for p in made.doorway.leaves if p.key == "left")  # type: ignore[union-attr]
    assert abs(gap.planned - shut.heel_gap.value) > 1e-4


@pytest.mark.parametrize(("off", "verdicts"), [(0.0, set()), (0.25, {Verdict.TIGHT})])
def test_a_drift_of_one_plumb_only_may_fail_and_never_passes(
    off: float, verdicts: set[Verdict]
) -> None:
    drift = leaf_of(planned(HUNG.format(hinge=0.5, nose=0.5, off=off)), "left").drift
    assert isinstance(drift, Drift)
    assert {check.verdict for check in drift.checks} == verdicts
    assert drift.words[0] == "Not read yet: how far its axis is off plumb through the wall."


def test_what_is_held_asks_and_is_not_passed_over() -> None:
    text = TEXT.replace('bottom_pin_length = "5 in"\n', "")
    asked = {c.key: c for c in planned(text=text).checks if c.verdict is Verdict.ASK}
    assert "bottom_pin_length" in asked["left/hanging"].change
    gates = (EXAMPLES / "yard-gate.toml").read_text(encoding="utf-8")
    post = OBSTACLE.format(near=20, far=30)
    ways = {c.key for c in planned(post, text=gates).checks if "slipway winch" in c.key}
    both = ("left", "right")
    assert ways == {f"swing/{hand}/obstacle/obstacle/the slipway winch/away" for hand in both}


def test_a_plan_without_the_site_stage_is_not_for_cutting(bare: Plan) -> None:
    assert bare.for_cutting
    assert not plan(read_job(TEXT), upto="shop").for_cutting


def test_what_was_not_said_is_among_the_defaults(bare: Plan) -> None:
    names = {quantity.name for quantity in site_of(bare).defaults}
    assert {"keep-out", "leaning lift", "least pin friction", "shape limit"} <= names


# ---------------------------------------------------------------- past a quarter turn

#: A hump behind the left leaf, 123° round its axis; the floor is flat elsewhere.
HUMP = """
[[reading]]
kind = "floor"
x = "-24 in"
z = "46 in"
is = "3 in"
"""


def test_floor_read_high_past_where_a_leaf_opens_to_is_asked() -> None:
    asked = {c.key: c for c in planned(HUMP).checks if c.verdict is Verdict.ASK}
    past = asked["swing/left/floor/past"]
    assert "is it stopped at 90° open" in past.question and "-24 in, 46 in" in past.question
    assert "123° round" in past.change
    assert "swing/right/floor/past" not in asked


def test_a_leaf_that_opens_farther_is_looked_at_farther() -> None:
    wide = TEXT.replace('meeting_gap = "1/4 in"', 'meeting_gap = "1/4 in"\nopens_to = "123 deg"')
    made = planned(HUMP, text=wide)
    checks = {check.key: check for check in made.checks}
    assert "swing/left/floor/past" not in checks
    swing = site_of(made).swing
    assert isinstance(swing, Swing)
    (toward,) = (t for t in swing.leaves[0].turns if t.way == "toward")
    # The leaf is set over the hump, which the doorway then finds to be its highest floor.
    assert toward.floor is not None and toward.floor.angles[-1] > math.radians(120)
    assert checks["swing/left/reveal/left/reveal/toward"].verdict is Verdict.SHORT


def depth_read(inches: float, at: str) -> str:
    return f'[[reading]]\nkind = "depth"\nat = "{at}"\nis = "{inches} in"\n'


def opens_to(more: str) -> float:
    swing = site_of(planned(more)).swing
    assert isinstance(swing, Swing)
    return next(t.opens_to for t in swing.leaves[0].turns if t.way == "toward")


def test_a_reveal_is_as_deep_as_it_was_read() -> None:
    """A deeper wall stops the leaf sooner; read at two places, the deeper one counts."""
    assert opens_to(depth_read(24, "BL") + depth_read(20, "TR")) == opens_to(depth_read(24, "BL"))
    assert opens_to(depth_read(24, "BL")) < opens_to(depth_read(18, "BL")) < opens_to("")
    listed = {q.key for q in site_of(planned(depth_read(24, "BL"))).defaults}
    assert "site/reveal depth" not in listed
    assert "site/reveal depth" in {q.key for q in site_of(planned()).defaults}


def gap(leaf: str, where: str, at: str, value: str, **more: str) -> str:
    keys = {"kind": "gap", "leaf": leaf, "where": where, "at": at, "is": value, **more}
    return "\n".join(["[[hung]]", *(f'{k} = "{v}"' for k, v in keys.items()), ""])


YARD = (EXAMPLES / "yard-gate.toml").read_text(encoding="utf-8")


def test_an_open_heel_gap_that_is_not_foretold_is_left_out_alone() -> None:
    read = gap("left", "heel", "4 in", "3 3/8 in") + gap("left", "heel", "70 in", "3 3/8 in")
    # The leaves of the yard open away: of one opened toward the viewer no swing is worked out.
    read += gap("left", "heel", "70 in", "5 in", angle="90 deg", swing="toward")
    found = leaf_of(planned(read, YARD), "left").hung
    assert isinstance(found, Hung)
    assert len(found.readings) == 2
    assert "is left out" in found.notes[0]


def test_the_level_of_a_plate_and_what_is_kept_come_from_the_job_file() -> None:
    plate = """
[[hung]]
kind = "plate"
leaf = "left"
plate = "bottom"
direction = "through the wall"
is = "1/8 in"
up = "viewer"
"""
    found = leaf_of(planned(HUNG.format(hinge=0.5, nose=0.5, off=0) + plate), "left").hung
    assert isinstance(found, Hung)
    shims = [m.words for m in found.moves if "shim" in m.words]
    assert shims[-1] == 'shim 1/8" under the far edge of the bottom plate, to level it'


LEANS = """
[[hung]]
leaf = "left"
kind = "plumb"
direction = "in the wall"
over = "160 in"
is = "1/2 in"
toward = "{way}"

[[hung]]
leaf = "left"
kind = "plumb"
direction = "through the wall"
over = "160 in"
is = "0 in"
toward = "viewer"
"""


@pytest.mark.parametrize(("way", "agrees"), [("right", True), ("left", False)])
def test_a_leaf_that_went_the_other_way_shows_a_plumb_line_of_the_wrong_sign(
    way: str, agrees: bool
) -> None:
    # The top of its axis off to the right draws a left leaf shut, and to the left open.
    made = planned(LEANS.format(way=way) + LET_GO.format(rests="1 deg"))
    (said,) = leaf_of(made, "left").let_go
    assert ("the other way" in said) is not agrees
    assert ("it moves shut" in said) is agrees
