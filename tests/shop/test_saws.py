"""How each cut is made: settings that make the plane again, what a saw takes, marks by hand.

The geometry is written out here anew: a saw is a line in plan through the place of its cut, its
near end turned to the left or the right, and a piece is what lies before the fence.
"""

from __future__ import annotations

import math
import random
from pathlib import Path
from typing import Any

import pytest

from leafwright import chain
from leafwright.handbook import outlines
from leafwright.job.errors import JobError
from leafwright.job.file import read_job
from leafwright.leaf import Plane, cut_bar
from leafwright.records import Verdict
from leafwright.shop.sawn import idle, laid_kerf, saw_checks
from leafwright.shop.saws import SawCut, Tool, cuts_of, jig_takes, plain_tools, takes, tools_of
from tests.sizes import cases

INCH = 0.0254
DEGREE = math.pi / 180
BOATHOUSE = (Path(__file__).parents[2] / "examples" / "boathouse.toml").read_text(encoding="utf-8")


def saw(left: float = 45, right: float = 45, **more: Any) -> Tool:
    """Return a saw that swings so far [°] and takes anything."""
    given: dict[str, Any] = {
        "name": "cold saw",
        "kind": "cold saw",
        "left": left * DEGREE,
        "right": right * DEGREE,
        "high": (None, None),
        "wide": (None, None),
        "kerf": 0.002,
        "stands": "shop",
        "jig": False,
        "freehand": False,
        "listed": True,
    }
    return Tool(**{**given, **more})


GRINDER = saw(0, 0, name="grinder", kind="grinder", freehand=True, stands="site")


def one_plane(degrees: float, width: float) -> tuple[tuple[float, float], ...]:
    """Return the profile of a mitred end that falls back upward, or downward if negative."""
    back = width * math.tan(abs(degrees) * DEGREE)
    return ((0.0, 0.0), (width, back)) if degrees >= 0 else ((0.0, back), (width, 0.0))


def blade(cut: SawCut, side: str, width: float, length: float) -> tuple[float, float]:
    """Return the line that a set saw cuts, in the piece as drawn: x at the lower edge, dx/dy.

    In plan x is to the right and y toward the fence. A blade swung left has its near end to the
    left: it leans to the right going away. A jig turns the kept part toward the maker.
    """
    lean = math.tan(cut.setting) * {"left": 1.0, "right": -1.0, "square": 0.0}[cut.swing]
    if cut.over:
        lean = -lean
    if cut.way == "jig":
        # Turned back from the jig: a right end by a right angle to the left, a left end to the
        # right; a line with dx/dy = m becomes one with dx/dy = -1/m either way.
        lean = -1.0 / lean
    (u, s) = cut.marks[0]
    at = s if side == "start" else length - s
    return at - lean * u, lean


@pytest.mark.parametrize("seed", range(cases(10, 100)))
def test_the_setting_makes_the_plane_again(seed: int) -> None:
    rng = random.Random(seed)
    width, high = rng.uniform(0.03, 0.12), rng.uniform(0.03, 0.12)
    tools = [
        saw(rng.uniform(0, 60), rng.uniform(0, 60), wide=(0.5, 0.4), high=(0.2, 0.2), jig=True),
        GRINDER,
    ]
    outline = outlines.rectangular_tube(width, high, 0.003, 0.006, 0.003)
    for _ in range(10):
        # Cut by its planes, one or two at each end, as the leaf stage does.
        angles = [[rng.uniform(-80, 80)] for _ in range(2)]
        for end in angles:
            if rng.random() < 0.5:
                end[:] = [rng.uniform(1, 80), -rng.uniform(1, 80)]
        length = 1.5
        normals = [[(math.cos(a * DEGREE), math.sin(a * DEGREE)) for a in end] for end in angles]
        bar = cut_bar(
            outline,
            width,
            (0.0, 0.0),
            (1.0, 0.0),
            start=[Plane((-c, s), 0.0) for c, s in normals[0]],
            end=[Plane((c, s), c * length) for c, s in normals[1]],
        )
        left, low = min(x for x, _ in bar.outline), -width / 2
        for side, end_cut, planes in (
            ("start", bar.start, normals[0]),
            ("end", bar.end, normals[1]),
        ):
            cuts = cuts_of(end_cut.profile, side, bar.long, high, tools)  # type: ignore[arg-type]
            slanted = [c for c in cuts if c.angle > 0]
            assert len(cuts) == 1 or cuts[0].angle == 0.0
            for cut in slanted:
                at, lean = blade(cut, side, width, bar.long)
                if cut.way == "by hand":
                    (u0, s0), (u1, s1) = cut.marks
                    lean = (s1 - s0) / (u1 - u0) * (1 if side == "start" else -1)
                    at = (s0 if side == "start" else bar.long - s0) - lean * u0
                # One of the planes: n · p = offset gives x = (offset − s y) / c.
                found = [
                    (((0.0 if side == "start" else c * length) - s * low) / c - left, -s / c)
                    if side == "end"
                    else ((s * low) / c - left, s / c)
                    for c, s in planes
                ]
                assert any(
                    at == pytest.approx(a, abs=1e-9) and lean == pytest.approx(m, abs=1e-9)
                    for a, m in found
                ), (side, cut, found, at, lean)


@pytest.mark.parametrize("seed", range(cases(50, 500)))
def test_a_mirrored_piece_gives_the_mirrored_setting(seed: int) -> None:
    rng = random.Random(seed)
    width = rng.uniform(0.03, 0.1)
    profile = one_plane(rng.uniform(-85, 85), width)
    if rng.random() < 0.5:
        profile = ((0.0, rng.uniform(0, 0.2)), (rng.uniform(0.2, 0.8) * width, 0.0), (width, 0.1))
    mirrored = tuple((width - u, s) for u, s in reversed(profile))
    tools = plain_tools(60 * DEGREE)
    other = {"left": "right", "right": "left", "square": "square"}
    edge = {"lower": "upper", "upper": "lower", "neither": "neither"}
    for one, two in zip(
        cuts_of(profile, "end", 2.0, width, tools),
        cuts_of(mirrored, "end", 2.0, width, tools),
        strict=True,
    ):
        assert (two.swing, two.longer) == (other[one.swing], edge[one.longer])
        assert two.setting == pytest.approx(one.setting)
        assert two.stop == pytest.approx(one.stop)
    # The other end of the same piece, seen in a mirror that stands across it.
    for one, two in zip(
        cuts_of(profile, "end", 2.0, width, tools),
        cuts_of(profile, "start", 2.0, width, tools),
        strict=True,
    ):
        assert (two.swing, two.longer) == (other[one.swing], one.longer)


# ------------------------------------------------------------------ by hand, with the geometry


def test_a_wedged_brace_by_hand() -> None:
    # 2-1/2 in tube in a corner, 13.2° off the upright: the stile cuts it 76.8° from square, the
    # rail 13.2°. The wedge's point lies where the two meet; here in the middle, 1-1/4 in up.
    half = 1.25 * INCH
    steep, flat = half * math.tan(76.8 * DEGREE), half * math.tan(13.2 * DEGREE)
    assert steep / INCH == pytest.approx(5.329, abs=1e-3)
    assert flat / INCH == pytest.approx(0.293, abs=1e-3)
    profile = ((0.0, flat), (half, 0.0), (2 * half, steep))
    square, first, second = cuts_of(profile, "end", 100 * INCH, 2.5 * INCH, (saw(), GRINDER))
    assert (square.angle, square.way) == (0.0, "saw")
    assert square.stop / INCH == pytest.approx(100)
    # Nearest to square first: the lower corner. It falls back toward the lower edge: at the
    # right-hand end the blade must run right going away from the maker, so its near end is left.
    assert (first.way, first.swing) == ("saw", "left")
    assert first.angle / DEGREE == pytest.approx(13.2)
    assert first.stop / INCH == pytest.approx(99.707, abs=1e-3)
    assert first.stop_at == "lower edge"
    # No saw swings 76.8°: from the point to 5.329 in back at the upper edge, by hand; the line on
    # the face is as long as the slant of that triangle.
    assert (second.way, second.tool) == ("by hand", "grinder")
    assert second.marks[1][1] / INCH == pytest.approx(5.329, abs=1e-3)
    assert second.line / INCH == pytest.approx(math.hypot(1.25, 5.329), abs=1e-3)
    assert second.why == "cold saw: it does not swing so far"


def test_a_saw_that_swings_one_way_takes_the_piece_turned_over() -> None:
    one_way = (saw(0, 60), GRINDER)
    up = cuts_of(one_plane(30, 0.05), "end", 1.0, 0.05, one_way)[0]
    down = cuts_of(one_plane(-30, 0.05), "end", 1.0, 0.05, one_way)[0]
    assert (up.swing, up.over, down.swing, down.over) == ("right", False, "right", True)


def test_the_saw_in_the_shop_goes_before_one_that_can_be_brought() -> None:
    tools = (saw(name="brought", stands="site"), saw(name="in the shop"))
    assert cuts_of(one_plane(0, 0.05), "end", 1.0, 0.05, tools)[0].tool == "in the shop"
    by_hand = (saw(10, 10), saw(60, 60, name="brought", stands="site"), GRINDER)
    assert cuts_of(one_plane(50, 0.05), "end", 1.0, 0.05, by_hand)[0].tool == "brought"


@pytest.mark.parametrize(
    ("high", "width", "degrees", "way"),
    [
        (0.10, 0.15, 0.0, "saw"),
        (0.101, 0.05, 0.0, "by hand"),
        (0.05, 0.151, 0.0, "by hand"),
        # Halfway to its greatest angle it takes half-way between 150 and 90 mm: 120 mm.
        (0.05, 0.119, 22.5, "saw"),
        (0.05, 0.121, 22.5, "by hand"),
        (0.05, 0.089, 45.0, "saw"),
        (0.05, 0.091, 45.0, "by hand"),
    ],
)
def test_a_saw_takes_what_fits(high: float, width: float, degrees: float, way: str) -> None:
    tools = (saw(high=(0.10, 0.10), wide=(0.15, 0.09)), GRINDER)
    assert cuts_of(one_plane(degrees, width), "end", 1.0, high, tools)[0].way == way


def test_swung_it_takes_the_cosine_of_its_width_where_only_that_is_known() -> None:
    tool = saw(60, 60, high=(0.1, None), wide=(0.2, None))
    assert takes(tool, 60 * DEGREE) == pytest.approx((0.1, 0.1))
    assert takes(tool, 0.0) == pytest.approx((0.1, 0.2))
    # Never more than the blade's own stroke would leave.
    assert all(takes(tool, a * DEGREE)[1] <= 0.2 * math.cos(a * DEGREE) + 1e-12 for a in range(61))


def test_a_jig_only_where_saw_and_stock_allow_it() -> None:
    # 76.8° from square is 13.2° in the jig. Across the widest piece the blade runs W / cos φ; the
    # slant of the cut is w / sin φ: 7 in of width leave w ≤ 7 tan 13.2° = 1.642 in.
    wide: Any = {"wide": (7 * INCH, 7 * INCH), "high": (4 * INCH, 4 * INCH)}
    allowed = saw(jig=True, **wide)
    angle = 76.8 * DEGREE
    assert jig_takes(allowed, angle, 1.5 * INCH, 1.64 * INCH)
    assert not jig_takes(allowed, angle, 1.5 * INCH, 1.645 * INCH)
    assert not jig_takes(saw(**wide), angle, 1.5 * INCH, 1.5 * INCH)
    assert not jig_takes(saw(jig=True), angle, 1.5 * INCH, 1.5 * INCH)
    cut = cuts_of(one_plane(76.8, 1.5 * INCH), "end", 1.0, 1.5 * INCH, (allowed, GRINDER))[0]
    assert cut.way == "jig"
    assert cut.setting / DEGREE == pytest.approx(13.2)


def test_a_saw_that_cannot_cut_is_told_and_asked() -> None:
    small = saw(name="bench saw", high=(0.03, None), wide=(0.03, None))
    cuts = cuts_of(one_plane(0, 0.06), "end", 2.0, 0.06, (small,))
    assert (cuts[0].way, cuts[0].tool, cuts[0].why) == (
        "none",
        "",
        "bench saw: the piece is too high for it",
    )
    checks = saw_checks([("left/top rail", ("A-TR",), "right", cuts)])
    assert [c.verdict for c in checks] == [Verdict.ASK]
    assert "bench saw: the piece is too high for it" in checks[0].question
    assert "grinder" in checks[0].change
    assert idle([cuts], (small,)) == (small,)


def test_sticks_are_laid_out_by_the_saw_that_takes_most() -> None:
    # Only what parts a piece counts: the grinder that takes a pointed end back afterwards does not.
    given = chain.base("default", "shop/kerf", "kerf", 0.003)
    thick, grinder = saw(kerf=0.004), saw(name="grinder", kerf=0.006, freehand=True)
    pointed = ((0.0, 0.07), (0.03, 0.0), (0.06, 0.07))
    cuts = cuts_of(pointed, "end", 2.0, 0.06, (thick, grinder))
    assert {c.tool for c in cuts[1:]} == {"grinder"} and cuts[0].tool == thick.name
    laid = laid_kerf(given, [cuts], (thick, grinder))
    assert laid.value == 0.004 and [q.value for q in laid.inputs] == [0.003, 0.004]
    assert thick.name in laid.formula
    thin = chain.base("default", "shop/kerf", "kerf", 0.005)
    assert laid_kerf(thin, [cuts], (thick, grinder)) is thin


# ------------------------------------------------------------------ the job file


def with_saws(text: str, saws: str) -> str:
    start = text.index("# in the order in which they are reached for")
    return text[:start] + saws + "\n" + text[text.index("[price]") :]


def test_an_old_file_reads_as_one_saw_and_a_tool_by_hand() -> None:
    old = read_job(with_saws(BOATHOUSE, '[saw]\nmitre_range = "50 deg"\n'))
    tool, by_hand = tools_of(old)
    assert tool.left == tool.right == pytest.approx(50 * DEGREE)
    assert tool.kerf == pytest.approx(0.094 * INCH)
    assert by_hand.freehand and not tool.listed


@pytest.mark.parametrize(
    ("saws", "told"),
    [
        ('mitre_left = "90 deg"', "would lie along the piece"),
        ('mitre_left = "-5 deg"', "0 or more"),
        ('takes_high = "0 in"', "more than 0"),
        ('takes_wide = "3 in"\ntakes_wide_swung = "4 in"', "no more when it is swung"),
        ('kerf = "-1 mm"', "0 or more"),
        ('[[cut_with]]\nname = "one"\nkind = "hacksaw"', "is there already"),
        ('[[cut_with]]\nname = "two"\nkind = "hacksaw"\njig = true', "led by hand"),
        ('[[cut_with]]\nname = "two"\nkind = "laser"', "hacksaw"),
    ],
)
def test_a_saw_that_cannot_be_is_refused_in_words(saws: str, told: str) -> None:
    text = with_saws(BOATHOUSE, f'[[cut_with]]\nname = "one"\nkind = "cold saw"\n{saws}\n')
    with pytest.raises(JobError) as refused:
        read_job(text)
    assert told in refused.value.report()
