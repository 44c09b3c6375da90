"""The sheets for the opening's doubts, the swing, the pad, the erector and the aligning."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from functools import cache

import pytest

from leafwright import plan, read_job
from leafwright.doorway.swing import Swing
from leafwright.job.file import with_value
from leafwright.paper.inspect import defects
from leafwright.paper.scene import Arc, Scene, Text
from leafwright.paper.sheet import Sheet, flatten, numbered
from leafwright.paper.sheets.align import align_sheets
from leafwright.paper.sheets.capture import capture_sheets
from leafwright.paper.sheets.common import desk
from leafwright.paper.sheets.pad import pad_sheets
from leafwright.paper.sheets.readings import sureness_sheets
from leafwright.paper.sheets.standing import standing_sheets
from leafwright.paper.sheets.swing import swing_sheets
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import words_of
from leafwright.site.fit_up import FitUp
from leafwright.site.hung import CAUTION, Hung
from leafwright.site.packers import Packing
from leafwright.site.records import LeafOnSite, Site
from leafwright.survey.examine import Examined
from leafwright.survey.fits import Rectangle
from tests.paper.sheets.on_site import JOBS, text_of
from tests.paper.sheets.test_packet_sheets import random_text
from tests.sizes import cases

PAPERS = ("Letter", "Tabloid", "A4", "A3")


def sheets_of(made: Plan) -> tuple[Sheet, ...]:
    """Return the sheets that this file is about; the rest of the packet has tests of its own."""
    at = desk(made)
    kinds = (
        sureness_sheets,
        capture_sheets,
        swing_sheets,
        pad_sheets,
        standing_sheets,
        align_sheets,
    )
    return numbered(tuple(sheet for kind in kinds for sheet in kind(at)))


@cache
def made_of(name: str) -> Plan:
    return plan(read_job(JOBS[name]()), upto="site")


@cache
def scenes_of(name: str, paper: str = "") -> tuple[Scene, ...]:
    made = made_of(name)
    if paper:
        job = read_job(with_value(JOBS[name](), ("job", "paper"), paper))
        made = plan(job, upto="site", previous=made)
    return tuple(flatten(sheet) for sheet in sheets_of(made))


def texts_on(scenes: tuple[Scene, ...], title: str) -> list[str]:
    found = [s for s in scenes if s.title == title or s.title.startswith(f"{title}, on")]
    assert found, (title, [s.title for s in scenes])
    return [i.text for s in found for i in s.all_items if isinstance(i, Text)]


def said_on(scenes: tuple[Scene, ...], title: str) -> str:
    """Return all words of a sheet and those it goes on over, line breaks as spaces."""
    return " ".join(texts_on(scenes, title)).replace("\u00a0", " ")


def site_of(name: str) -> Site:
    there = made_of(name).site
    assert isinstance(there, Site), there
    return there


def leaf_of(name: str, key: str) -> LeafOnSite:
    return next(one for one in site_of(name).leaves if one.key == key)


def assert_clean(scenes: tuple[Scene, ...]) -> None:
    found = [f"{scene.title}: {defect}" for scene in scenes for defect in defects(scene)]
    assert not found, "\n".join(found)


FULLEST = ("boathouse welded", "kiln shed read", "yard gate read")
ALL = [(name, paper) for name in JOBS for paper in PAPERS]
USUAL = [(name, paper) for name, paper in ALL if name in FULLEST]
USUAL += [("too low", "Letter"), ("one reading", "A4"), ("boathouse", "Letter")]


@pytest.mark.parametrize(("name", "paper"), USUAL if cases(1, 2) == 1 else ALL)
def test_every_sheet_of_a_read_job_is_clean_on_every_paper(name: str, paper: str) -> None:
    assert_clean(scenes_of(name, paper))


@pytest.mark.parametrize("seed", range(cases(4, 80)))
def test_site_sheets_stay_clean_whatever_is_wished(seed: int) -> None:
    made = plan(read_job(random_text(random.Random(1000 + seed))), upto="site")
    assert_clean(tuple(flatten(sheet) for sheet in sheets_of(made)))


def test_without_the_site_stage_there_are_no_sheets_of_it() -> None:
    titles = {sheet.title for sheet in sheets_of(plan(read_job(text_of("boathouse")), upto="shop"))}
    assert not any("standing" in title or "aligning" in title for title in titles)
    assert "The opening, how sure it is" in titles


def test_a_stop_is_on_every_site_sheet() -> None:
    for scene in scenes_of("kiln shed read"):
        words = [i.text for i in scene.all_items if isinstance(i, Text)]
        assert "NOT FOR CUTTING" in words, scene.title


class TestSureness:
    def test_the_largest_rectangle_is_drawn_and_said(self) -> None:
        looked = made_of("boathouse").examined
        assert isinstance(looked, Examined)
        assert isinstance(looked.largest, Rectangle)
        words = words_of(made_of("boathouse").job)
        texts = texts_on(scenes_of("boathouse"), "The opening, how sure it is")
        wide, high = words.length(looked.largest.width), words.length(looked.largest.height)
        assert f"{wide} × {high}" in texts
        assert wide in texts
        assert high in texts

    def test_each_suspect_stands_there_with_what_fits_and_both_answers(self) -> None:
        looked = made_of("kiln-shed").examined
        assert isinstance(looked, Examined)
        words = words_of(made_of("kiln-shed").job)
        scenes = scenes_of("kiln-shed", "A3")
        said = " ".join(
            i.text
            for s in scenes
            if s.title.startswith("The opening, how sure it is")
            for i in s.all_items
            if isinstance(i, Text)
        )
        assert len(looked.doubts.suspects) == 3
        for one in looked.doubts.suspects:
            assert words.length(one.read) in said
            assert words.length(one.fits) in said
            for span in one.spans:
                assert words.length(span.without) in said
        assert looked.further[0].words[1:] in said

    def test_an_unchecked_reading_is_marked(self) -> None:
        looked = made_of("boathouse").examined
        assert isinstance(looked, Examined)
        unchecked = [r for r in looked.doubts.reliability if r.smallest is None and not r.assumed]
        texts = texts_on(scenes_of("boathouse", "A3"), "The opening, how sure it is")
        texts += [
            i.text
            for s in scenes_of("boathouse", "A3")
            if s.title == "The opening, how sure it is, readings"
            for i in s.all_items
            if isinstance(i, Text)
        ]
        assert unchecked
        assert texts.count("UNCHECKED") == len(unchecked)


class TestCapture:
    def test_an_opening_hardly_read_has_a_blank_for_each_usual_reading(self) -> None:
        assert isinstance(made_of("one reading").survey, Held)
        said = said_on(scenes_of("one reading"), "Readings to take")
        assert "The opening is not known yet" in said
        for words in ("TL to TR", "Diagonal, BL to TR", "Level of TR", "off plumb", "the right"):
            assert words in said, words
        assert "Width along the bottom" not in said

    def test_what_was_read_is_not_asked_again(self) -> None:
        said = said_on(scenes_of("boathouse"), "Readings to take")
        assert "Diagonal" not in said
        assert "Head over TL" in said


class TestSwing:
    def test_the_least_gap_of_the_heel_is_said_with_its_angle(self) -> None:
        swing = site_of("boathouse").swing
        assert isinstance(swing, Swing)
        words = words_of(made_of("boathouse").job)
        texts = texts_on(scenes_of("boathouse"), "How the leaves turn")
        for turn in swing.leaves[0].turns:
            angle = f"{math.degrees(turn.heel.least_at):.0f}°"
            wanted = f"Heel to its jamb: least {words.length(turn.heel.least)}, {angle} open"
            assert any(wanted in text for text in texts), (wanted, texts)

    def test_the_clear_opening_stands_on_the_plan_and_in_the_table(self) -> None:
        swing = site_of("boathouse").swing
        assert isinstance(swing, Swing)
        words = words_of(made_of("boathouse").job)
        texts = texts_on(scenes_of("boathouse"), "How the leaves turn")
        for one in swing.clear:
            row = next(r for r in one.table if abs(r.angle - math.pi / 2) < 1e-9)
            assert f"clear {words.length(row.seen)} at 90°" in texts
            assert words.length(row.seen) in texts
        assert "YOU, DOCK SIDE" in texts

    def test_both_edges_of_both_leaves_have_a_path_each_way(self) -> None:
        scene = next(s for s in scenes_of("boathouse") if s.title == "How the leaves turn")
        arcs = [i for i in scene.items if isinstance(i, Arc) and i.layer == "centre"]
        assert len(arcs) == 8
        assert {round(math.degrees(arc.span), 6) for arc in arcs} == {90.0}

    def test_every_share_of_every_gap_is_listed(self) -> None:
        doorway = made_of("boathouse").doorway
        assert not isinstance(doorway, Held)
        said = said_on(scenes_of("boathouse"), "How the leaves turn")
        for one in doorway.budgets:
            for share in one.shares:
                assert share.what.name in said

    def test_a_gate_on_barrel_hinges_is_drawn_turning(self) -> None:
        said = said_on(scenes_of("yard-gate"), "How the leaves turn")
        assert "It would touch the left jamb at 102°" in said


class TestPad:
    TITLE = "Left leaf: fitting it up"

    def test_planned_numbers_are_six_millimetres_high(self) -> None:
        doorway = made_of("boathouse").doorway
        assert not isinstance(doorway, Held)
        place = doorway.leaves[0]
        words = words_of(made_of("boathouse").job)
        scenes = [s for s in scenes_of("boathouse") if s.title.startswith(self.TITLE)]
        big = [
            i.text
            for s in scenes
            for i in s.all_items
            if isinstance(i, Text) and i.height_mm >= 6.0
        ]
        diagonal = math.hypot(place.width.value, place.height.value)
        assert big.count(words.length(diagonal)) == 2
        assert big.count(words.length(place.width)) == 3
        assert big.count(words.length(place.height)) == 2

    def test_every_push_and_its_place_are_shown(self) -> None:
        found = leaf_of("boathouse read", "left").tacked
        assert isinstance(found, FitUp)
        assert found.pushes
        said = said_on(scenes_of("boathouse read"), "Left leaf: as read, tacked")
        for push in found.pushes:
            assert push.words[1:] in said
        assert "ERRORS" in said

    def test_every_packer_is_told(self) -> None:
        packing = leaf_of("boathouse read", "left").packing
        assert isinstance(packing, Packing)
        words = words_of(made_of("boathouse read").job)
        texts = texts_on(scenes_of("boathouse read"), self.TITLE)
        for one in packing.packers:
            assert one.name in texts
            whole = words.length(math.fsum(one.stack)) if one.stack else "none"
            assert whole in texts

    def test_once_one_leaf_is_made_the_other_s_sheet_says_how_wide(self) -> None:
        split = site_of("boathouse welded").resplit
        assert split is not None
        assert not isinstance(split, Held)
        said = said_on(scenes_of("boathouse welded"), "Right leaf: fitting it up")
        assert split.words[0] in said
        assert "Its sheet, cards and cut list say so now" in said
        left = said_on(scenes_of("boathouse welded"), "Left leaf: fitting it up")
        assert "The other leaf is made" not in left


class TestStanding:
    def test_cautions_come_first_and_with_the_keep_out(self) -> None:
        up = leaf_of("boathouse", "left").stand_up
        words = words_of(made_of("boathouse").job)
        scene = next(s for s in scenes_of("boathouse") if s.title == "Left leaf: standing it up")
        texts = [i for i in scene.items if isinstance(i, Text)]
        left = min(t.at[0] for t in texts)
        first = max((t for t in texts if t.at[0] < left + 30.0), key=lambda t: t.at[1])
        assert first.text.startswith(f"Keep everybody {words.length(up.keep_out)}")
        said = " ".join(t.text for t in texts)
        for caution in up.cautions:
            if not caution.startswith("Nobody within"):
                assert caution in said or caution[:1].upper() + caution[1:] in said
        assert words.force(up.peak) in said

    def test_what_hands_cannot_do_is_a_stop(self) -> None:
        said = said_on(scenes_of("too low"), "Left leaf: standing it up")
        assert "STOP" in said
        assert "needs a hoist or lift" in said.lower()

    def test_with_a_hoist_no_push_is_told(self) -> None:
        text = text_of("boathouse") + '\n[site]\nlift = "hoist"\n'
        made = plan(read_job(text), upto="site")
        scenes = tuple(flatten(sheet) for sheet in sheets_of(made))
        said = said_on(scenes, "Left leaf: standing it up")
        assert "Raise it with the hoist or truck" in said
        assert "Hardest push" not in said

    def test_the_steps_onto_the_pins_are_told(self) -> None:
        hanging = leaf_of("boathouse", "left").hanging
        assert not isinstance(hanging, Held)
        assert hanging.best is not None
        said = said_on(scenes_of("boathouse"), "Left leaf: standing it up")
        for step in hanging.best.steps:
            assert step in said


class TestAlign:
    def test_planned_gaps_are_shown_where_they_are_to_be_read(self) -> None:
        doorway = made_of("boathouse").doorway
        assert not isinstance(doorway, Held)
        words = words_of(made_of("boathouse").job)
        texts = texts_on(scenes_of("boathouse"), "Left leaf: aligning it")
        heel = words.length(doorway.leaves[0].heel_gap)
        assert texts.count(heel) >= 2
        assert CAUTION.split(":")[0] in " ".join(texts)

    @pytest.mark.parametrize(
        ("name", "key", "title"),
        [
            ("boathouse read", "left", "Left leaf: what to move"),
            ("kiln shed read", "leaf", "The leaf: what to move"),
            ("yard gate read", "right", "Right leaf: what to move"),
        ],
    )
    def test_every_move_is_told_large_after_the_caution(
        self, name: str, key: str, title: str
    ) -> None:
        found = leaf_of(name, key).hung
        assert isinstance(found, Hung)
        assert found.moves
        said = said_on(scenes_of(name), title)
        for move in found.moves:
            assert move.words[1:] in said
        for stop in found.stops:
            assert f"STOP: {stop.why}" in said
            assert "WAIT for the stop above" in said
        assert said.index("Before anything is loosened") < said.index(found.moves[0].words[1:])


def test_every_job_of_the_list_can_be_read() -> None:
    makers: list[Callable[[], str]] = list(JOBS.values())
    assert all(read_job(make()).leaf for make in makers)
