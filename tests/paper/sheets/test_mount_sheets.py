"""The sheets of how a leaf is held: to scale, from the job's own sizes, and nothing made up."""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from leafwright import plan, read_job
from leafwright.job.file import with_value
from leafwright.mount.envelope import pin_envelope
from leafwright.mount.hinge_loads import hinge_heights
from leafwright.mount.loops import stack_of
from leafwright.paper.inspect import defects
from leafwright.paper.scene import Box, Circle, Polyline, Scene, Text, box_around
from leafwright.paper.sheet import Sheet, flatten
from leafwright.paper.sheets import packet_sheets
from leafwright.paper.sheets.common import desk
from leafwright.paper.sheets.mount import mount_sheets
from leafwright.paper.sheets.mount_parts import mountings
from leafwright.pipeline import Plan
from leafwright.records import Verdict
from leafwright.say import words_of
from tests.paper.sheets.test_packet_sheets import random_text
from tests.sizes import cases

EXAMPLES = Path(__file__).parents[3] / "examples"
NAMES = ("boathouse", "kiln-shed", "yard-gate")
PAPERS = ("Letter", "Tabloid", "A4", "A3")
PIVOT_KEYS = (
    "plate",
    "pin_diameter",
    "sleeve_bore",
    "sleeve_outside",
    "ball_diameter",
    "bottom_pin_length",
    "top_pin_length",
    "slug_length",
    "grease_fitting",
    "access_hole",
    "pin_weld",
    "sleeve_length",
    "plug_hole",
    "plug_holes",
    "top_plate",
    "top_bolts",
    "bolt_gauge",
    "bolt",
)


def text_of(name: str) -> str:
    return (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


def made_from(text: str) -> Plan:
    return plan(read_job(text), upto="shop")


@cache
def made_of(name: str) -> Plan:
    return made_from(text_of(name))


@cache
def sheets_of(name: str) -> tuple[Sheet, ...]:
    return mount_sheets(desk(made_of(name)))


def scenes_of(sheets: tuple[Sheet, ...]) -> tuple[Scene, ...]:
    return tuple(flatten(sheet) for sheet in sheets)


def texts_of(scenes: tuple[Scene, ...], title: str = "") -> list[str]:
    found = [scene for scene in scenes if scene.title.startswith(title)]
    assert found, (title, [scene.title for scene in scenes])
    return [i.text for scene in found for i in scene.all_items if isinstance(i, Text)]


def said(scenes: tuple[Scene, ...], title: str = "") -> str:
    """Return the words of sheets, line breaks as spaces."""
    return " ".join(texts_of(scenes, title)).replace("\u00a0", " ")


def assert_clean(sheets: tuple[Sheet, ...]) -> None:
    # The band over a sheet and its title strip are another subject's.
    scenes = [replace(scene, furniture=()) for scene in scenes_of(sheets)]
    found = [f"{scene.title}: {defect}" for scene in scenes for defect in defects(scene)]
    assert not found, "\n".join(found)


def drawn(scenes: tuple[Scene, ...], title: str, key: str) -> Polyline:
    """Return the one outline of a key on the sheet of a title."""
    scene = next(scene for scene in scenes if scene.title == title)
    found = [i for i in scene.items if isinstance(i, Polyline) and i.key == key]
    assert found, key
    return found[-1]


def box_of(outline: Polyline) -> Box:
    return box_around(outline.points)


def without(text: str, *keys: str) -> str:
    for key in keys:
        text = with_value(text, ("each_leaf", "mount", key), None)
    return text


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", PAPERS)
def test_every_sheet_is_clean_on_every_paper(name: str, paper: str) -> None:
    job = read_job(with_value(text_of(name), ("job", "paper"), paper))
    sheets = mount_sheets(desk(plan(job, upto="shop", previous=made_of(name))))
    assert sheets
    assert_clean(sheets)


def random_pivots(rng: random.Random) -> str:
    """Return a boathouse with other wishes, other plates, and sizes left out."""
    text = random_text(rng)
    share = rng.choice([0.0, 0.2, 0.9])
    text = without(text, *(key for key in PIVOT_KEYS if rng.random() < share))
    mount = ("each_leaf", "mount")
    if rng.random() < 0.4:
        text = with_value(text, (*mount, "top_fixed"), rng.choice(["welded", "unknown"]))
    if rng.random() < 0.3:
        text = with_value(text, (*mount, "axis"), rng.choice(["1 in", "3/4 in", "2 in"]))
    if rng.random() < 0.3:
        beams = ["unknown", "reinforced concrete lintel, 150 mm deep, cast in 1931", "glulam 6x12"]
        text = with_value(text, ("building", "beam"), rng.choice(beams))
    if rng.random() < 0.5:
        text = with_value(text, ("building", "anchor", "per_plate"), rng.choice([1, 2, 4, 6]))
        text = with_value(text, ("building", "anchor", "spacing_along"), "3 in")
    return text


@pytest.mark.parametrize("seed", range(cases(5, 120)))
def test_pivot_sheets_stay_clean_whatever_is_wished_or_left_out(seed: int) -> None:
    assert_clean(mount_sheets(desk(made_from(random_pivots(random.Random(seed))))))


def random_hinges(rng: random.Random) -> str:
    """Return the yard gate on other hinges and posts, sizes left out."""
    text = with_value(text_of("yard-gate"), ("job", "paper"), rng.choice(PAPERS))
    for key in ("pin_diameter", "clearance", "barrel_length", "weld", "weld_length"):
        if rng.random() < 0.3:
            text = without(text, key)
    if rng.random() < 0.3:
        text = with_value(text, ("post",), None)
    else:
        for key in ("footing_diameter", "footing_depth"):
            if rng.random() < 0.3:
                text = with_value(text, ("post", key), None)
    heights = rng.choice([["8 in", "70 in"], ["6 in", "36 in", "72 in"], ["10 in", "20 in"]])
    text = with_value(text, ("each_leaf", "mount", "heights"), heights)
    corners = rng.choice(["mitred", "stiles run through", "rails run through"])
    return with_value(text, ("each_leaf", "corners"), corners)


@pytest.mark.parametrize("seed", range(cases(4, 80)))
def test_hinge_sheets_stay_clean_whatever_is_wished_or_left_out(seed: int) -> None:
    assert_clean(mount_sheets(desk(made_from(random_hinges(random.Random(seed))))))


def test_they_stand_in_the_packet_after_the_leaves() -> None:
    titles = [sheet.title for sheet in packet_sheets(made_of("boathouse"))]
    assert titles.index("Left leaf: bottom pivot") > titles.index("Right leaf, hung right")
    assert titles.index("Both leaves: pivot plates") < titles.index("Cut list")


class TestScale:
    @pytest.mark.parametrize(("paper", "ratio"), [("Tabloid", 1), ("Letter", 2)])
    def test_a_pin_is_drawn_true_to_the_scale_that_is_said(self, paper: str, ratio: int) -> None:
        made = made_from(with_value(text_of("boathouse"), ("job", "paper"), paper))
        sheets = mount_sheets(desk(made))
        first = next(s for s in sheets if s.title == "Left leaf: bottom pivot")
        assert [placed.scale.ratio for placed in first.placed] == [ratio]
        pin = box_of(drawn(scenes_of(sheets), first.title, "pin"))
        assert pin.width == pytest.approx(1.4990 * 25.4 / ratio)
        assert pin.height == pytest.approx(5.0 * 25.4 / ratio)
        assert "Do not scale this print" in said(scenes_of(sheets), first.title)

    def test_what_stands_on_the_pin_closes_the_sleeve_s_loop(self) -> None:
        scenes = scenes_of(sheets_of("boathouse"))
        title = "Left leaf: bottom pivot"
        pin, slug = (box_of(drawn(scenes, title, key)) for key in ("pin", "slug"))
        scene = next(scene for scene in scenes if scene.title == title)
        (ball,) = (i for i in scene.items if isinstance(i, Circle) and i.key == "ball")
        m = mountings(desk(made_of("boathouse")))[0][0]
        loop = stack_of(m).ball
        assert loop is not None
        mm = 1000.0
        assert slug.top - pin.bottom == pytest.approx(mm * loop.parts[2].upto)
        assert slug.bottom - pin.top == pytest.approx(mm * loop.parts[1].size.value)
        assert ball.centre[1] == pytest.approx((slug.bottom + pin.top) / 2.0)


class TestBottom:
    TITLE = "Left leaf: bottom pivot"

    def test_both_loops_are_dimensioned_from_their_own_ends(self) -> None:
        made = made_of("boathouse")
        words = words_of(made.job)
        m = mountings(desk(made))[0][0]
        found = stack_of(m)
        assert found.ball is not None
        told = said(scenes_of(sheets_of("boathouse")), self.TITLE)
        for part, what in zip(
            found.ball.parts, ("end of pin", "top of ball", "top of slug"), strict=False
        ):
            height = words.length(part.upto).replace("\u00a0", " ")
            assert f"{height}: {what}" in told
        assert "0: top of plate" in told
        assert "0: floor at the pivot, no packing" in told
        assert '1": bottom of leaf, spacer 1/2"' in told

    def test_packing_is_drawn_and_said_where_there_is_some(self) -> None:
        scenes = scenes_of(sheets_of("boathouse"))
        title = "Right leaf: bottom pivot"
        place = mountings(desk(made_of("boathouse")))[1][0].place
        assert place.packing is not None
        pack = box_of(drawn(scenes, title, "packing"))
        assert pack.height == pytest.approx(1000.0 * place.packing.value)
        height = words_of(made_of("boathouse").job).length(place.packing).replace("\u00a0", " ")
        assert f"{height}: top of packing" in said(scenes, title)

    def test_clearances_are_in_ten_thousandths(self) -> None:
        told = said(scenes_of(sheets_of("boathouse")), self.TITLE)
        assert "1.4990 in" in told
        assert "0.0025 in clear of the pin" in told

    def test_plug_holes_and_access_hole_are_from_the_leaf_s_bottom(self) -> None:
        told = said(scenes_of(sheets_of("boathouse")), self.TITLE)
        assert 'access hole, 1 1/4" dia.; fitting 1/4-28' in told
        assert told.count('2 plug holes, 9/16" dia.') == 2

    def test_each_leaf_is_drawn_in_its_own_hand(self) -> None:
        scenes = scenes_of(sheets_of("boathouse"))
        for title, side in (("Left leaf: bottom pivot", -1), ("Right leaf: bottom pivot", 1)):
            scene = next(scene for scene in scenes if scene.title == title)
            words = next(i for i in scene.items if isinstance(i, Text) and i.text == "HINGE EDGE")
            pin = box_of(drawn(scenes, title, "pin")).centre[0]
            assert (words.at[0] - pin) * side > 0.0
            texts = [i.text for i in scene.items if isinstance(i, Text)]
            assert "UP" in texts
            assert any("SEEN FROM THE DOCK SIDE" in text for text in texts)

    def test_the_words_opposite_hand_are_on_no_sheet(self) -> None:
        for name in NAMES:
            assert "opposite hand" not in said(scenes_of(sheets_of(name))).lower()


class TestNotGiven:
    @pytest.mark.parametrize(
        ("key", "drawn_as"),
        [("bottom_pin_length", "pin"), ("pin_diameter", "pin"), ("slug_length", "slug")],
    )
    def test_a_size_that_is_not_given_is_dashed_and_asked_for(
        self, key: str, drawn_as: str
    ) -> None:
        sheets = mount_sheets(desk(made_from(without(text_of("boathouse"), key))))
        scenes = scenes_of(sheets)
        title = "Left leaf: bottom pivot"
        assert drawn(scenes, title, drawn_as).layer == "hidden"
        told = said(scenes, title)
        assert f"Not given: write {key} in the job file" in told
        assert f"write {key}" in told.replace(f"Not given: write {key} in the job file", "")

    def test_what_stands_on_a_size_that_is_not_given_has_no_figure(self) -> None:
        sheets = mount_sheets(desk(made_from(without(text_of("boathouse"), "bottom_pin_length"))))
        told = said(scenes_of(sheets), "Left leaf: bottom pivot")
        assert "not known yet: top of ball" in told
        assert "not known yet: top of slug" in told
        assert "plug holes, 9/16" not in told

    def test_with_every_size_given_nothing_of_the_pivot_is_dashed_or_asked(self) -> None:
        scenes = scenes_of(sheets_of("boathouse"))
        assert "not given" not in said(scenes, "Left leaf: bottom pivot").lower()
        assert drawn(scenes, "Left leaf: bottom pivot", "pin").layer == "cut"

    def test_a_mount_with_no_sizes_at_all_is_still_drawn(self) -> None:
        text = without(text_of("boathouse"), *PIVOT_KEYS, "spacer")
        sheets = mount_sheets(desk(made_from(text)))
        assert_clean(sheets)
        told = said(scenes_of(sheets), "Left leaf: bottom pivot")
        for key in ("plate", "ball_diameter", "sleeve_length", "access_hole"):
            assert key in told


class TestPlates:
    def test_bolts_that_the_job_places_stand_at_their_gauge(self) -> None:
        text = with_value(text_of("boathouse"), ("each_leaf", "mount", "top_bolts"), 2)
        sheets = mount_sheets(desk(made_from(text)))
        (scene,) = (s for s in scenes_of(sheets) if s.title == "Both leaves: pivot plates")
        (ratio,) = {
            placed.scale.ratio
            for one in sheets
            if one.title == scene.title
            for placed in one.placed
        }
        holes = [i for i in scene.items if isinstance(i, Circle) and i.key == "hole"]
        drilled = 0.5625 * 25.4 / ratio
        bolts = [i for i in holes if 2.0 * i.radius == pytest.approx(drilled)]
        assert [i.layer for i in bolts] == ["note", "note"]
        apart = abs(bolts[0].centre[1] - bolts[1].centre[1])
        assert apart == pytest.approx(3.5 * 25.4 / ratio)

    def test_anchors_whose_spacing_is_not_given_are_dashed_and_asked_for(self) -> None:
        text = text_of("boathouse")
        for way in ("along", "across"):
            text = with_value(text, ("building", "anchor", f"spacing_{way}"), None)
        told = said(scenes_of(mount_sheets(desk(made_from(text)))), "Both leaves: pivot plates")
        assert "building.anchor.spacing_along, building.anchor.spacing_across" in told
        assert "dashed as the proof takes them" in told

    def test_anchors_of_an_unknown_number_are_not_drawn(self) -> None:
        scenes = scenes_of(sheets_of("kiln-shed"))
        told = said(scenes, "The leaf: pivot plates")
        assert "write building.anchor.per_plate" in told
        keyed = [
            i
            for s in scenes
            if s.title.startswith("The leaf: pivot plates")
            for i in s.items
            if isinstance(i, Circle) and i.key == "hole"
        ]
        assert len(keyed) == 2  # the top plate's own bolts

    def test_leaves_with_other_plates_have_a_sheet_each(self) -> None:
        text = text_of("boathouse")
        own = '[leaf.mount]\nkind = "floor pivot"\nplate = { thickness = "3/4 in", '
        own += 'width = "7 in", length = "9 in", grade = "A36" }\n'
        text = text.replace('hand = "right"\n', f'hand = "right"\n\n{own}')
        titles = {sheet.title for sheet in mount_sheets(desk(made_from(text)))}
        assert {"Left leaf: pivot plates", "Right leaf: pivot plates"} <= titles
        assert "Both leaves: pivot plates" not in titles


class TestHinges:
    TITLE = "Left leaf: its hinges and post"

    def test_heights_are_said_from_the_ground_and_from_the_leaf(self) -> None:
        made = made_of("yard-gate")
        words = words_of(made.job)
        told = said(scenes_of(sheets_of("yard-gate")), self.TITLE)
        m = mountings(desk(made))[0][0]
        for height in hinge_heights(m).values():
            assert f"{words.length(height)}: the ".replace("\u00a0", " ") in told
        for figure in (
            "0: ground",
            "0: bottom of leaf",
            "5'-0\": bottom of footing",
            '3 3/8" standoff',
        ):
            assert figure in told, figure

    def test_hinges_stand_at_their_heights_to_scale(self) -> None:
        sheets = sheets_of("yard-gate")
        first = next(s for s in sheets if s.title == self.TITLE)
        (scale,) = {placed.scale for placed in first.placed}
        m = mountings(desk(made_of("yard-gate")))[0][0]
        heights = hinge_heights(m)
        scenes = scenes_of(sheets)
        low, high = (box_of(drawn(scenes, self.TITLE, place)) for place in sorted(heights))
        apart = max(heights.values()) - min(heights.values())
        assert high.top - low.top == pytest.approx(apart * scale.mm_per_m)

    def test_without_a_post_it_is_asked_for(self) -> None:
        made = made_from(with_value(text_of("yard-gate"), ("post",), None))
        scenes = scenes_of(mount_sheets(desk(made)))
        assert "Not given: write [post] in the job file" in said(scenes, self.TITLE)

    def test_a_footing_that_is_not_given_is_dashed(self) -> None:
        text = with_value(text_of("yard-gate"), ("post", "footing_depth"), None)
        scenes = scenes_of(mount_sheets(desk(made_from(text))))
        assert drawn(scenes, self.TITLE, "footing").layer == "hidden"
        assert "write post.footing_depth" in said(scenes, self.TITLE)


class TestWords:
    @pytest.mark.parametrize("name", NAMES)
    def test_every_check_of_every_link_is_told_once_with_its_verdict(self, name: str) -> None:
        made = made_of(name)
        scenes = scenes_of(sheets_of(name))
        counts = dict.fromkeys(("ok", "tight", "SHORT", "ASK"), 0)
        for text in texts_of(scenes):
            if text in counts:
                counts[text] += 1
        told = {check.key: check for check in made.checks}
        names = {
            Verdict.OK: "ok",
            Verdict.TIGHT: "tight",
            Verdict.SHORT: "SHORT",
            Verdict.ASK: "ASK",
        }
        wanted = dict.fromkeys(counts, 0)
        for _, mount in mountings(desk(made)):
            for check in mount.checks:
                wanted[names[told.get(check.key, check).verdict]] += 1
        assert counts == wanted

    @pytest.mark.parametrize("name", NAMES)
    def test_every_caution_of_every_link_is_in_a_box(self, name: str) -> None:
        told = said(scenes_of(sheets_of(name)))
        for _, mount in mountings(desk(made_of(name))):
            for _, link in mount.links:
                for caution in link.cautions:
                    assert " ".join(caution.split()) in told, caution

    def test_the_most_that_a_pin_carries_is_said(self) -> None:
        made = made_of("boathouse")
        words = words_of(made.job)
        for m, _ in mountings(desk(made)):
            title = f"{m.key.capitalize()} leaf: bottom pivot"
            texts = texts_of(scenes_of(sheets_of("boathouse")), title)
            forces = pin_envelope(m, m.pivots[0])
            assert words.force(max(f.shear for f in forces)) in texts
            assert words.force(max(f.axial for f in forces)) in texts
