"""Every sheet of every packet is clean: nothing overlaps, and nothing leaves the frame."""

from __future__ import annotations

import io
import random
import re
from pathlib import Path

import pytest
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import readfile
from pypdf import PdfReader

from leafwright import plan, read_job
from leafwright.job.file import with_value
from leafwright.packet import write_packet
from leafwright.paper.inspect import defects
from leafwright.paper.pdf import pdf_bytes
from leafwright.paper.scene import Scene, Text
from leafwright.paper.sheet import flatten
from leafwright.paper.sheets import packet_sheets
from leafwright.pipeline import Plan
from leafwright.say import words_of
from tests.sizes import cases

EXAMPLES = Path(__file__).parents[3] / "examples"
NAMES = ("boathouse", "kiln-shed", "yard-gate")


def text_of(name: str) -> str:
    return (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


def scenes_of(made: Plan) -> list[Scene]:
    return [flatten(sheet) for sheet in packet_sheets(made)]


def words_on(scene: Scene) -> str:
    return "\n".join(i.text for i in scene.all_items if isinstance(i, Text))


def assert_clean(scenes: list[Scene]) -> None:
    found = [f"{scene.title}: {defect}" for scene in scenes for defect in defects(scene)]
    assert not found, "\n".join(found)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", ["Letter", "Tabloid", "A4", "A3"])
def test_every_sheet_of_every_example_is_clean_on_every_paper(name: str, paper: str) -> None:
    made = plan(read_job(with_value(text_of(name), ("job", "paper"), paper)))
    assert_clean(scenes_of(made))


def random_text(rng: random.Random) -> str:
    """Return the boathouse with other wishes, as a maker might write them."""
    text = text_of("boathouse")
    text = with_value(
        text,
        ("each_leaf", "frame"),
        rng.choice(
            ["HSS 2 x 2 x 1/8", "HSS 3 x 3 x 3/16", "HSS 2-1/2 x 2-1/2 x 3/16", "SHS 60 x 60 x 4"]
        ),
    )
    text = with_value(
        text,
        ("each_leaf", "corners"),
        rng.choice(["mitred", "stiles run through", "rails run through"]),
    )
    text = with_value(
        text,
        ("each_leaf", "mid_rail"),
        rng.choice(
            [[], [{"at": "half"}], [{"height": "4'-6"}, {"height": "9'"}], [{"height": "3'"}]]
        ),
    )
    text = with_value(
        text,
        ("each_leaf", "brace"),
        rng.choice(
            [
                [],
                [{"pattern": "X"}],
                [{"pattern": "one diagonal", "foot": "closing stile"}],
                [{"pattern": "rod", "section": "round bar 1/2 in"}],
                [{"pattern": "X", "through": "falling", "panel": 1}],
            ]
        ),
    )
    text = with_value(text, ("each_leaf", "swing"), rng.choice(["toward", "away", "both"]))
    text = with_value(text, ("job", "system"), rng.choice(["feet-inch", "metric"]))
    text = with_value(
        text,
        ("job", "name"),
        rng.choice(
            ["Boathouse doors", "The north and south doors of the old rope walk, second bay"]
        ),
    )
    if rng.random() < 0.3:
        text = with_value(text, ("doorway", "leaf_height"), None)
    if rng.random() < 0.3:
        text = with_value(text, ("doorway", "transom"), None)
    if rng.random() < 0.3:
        text = with_value(text, ("doorway", "jamb"), None)
    if rng.random() < 0.3:
        text = with_value(text, ("reading", 6, "set_aside"), "again")
        text = with_value(text, ("reading", 5, "set_aside"), None)
    paper = rng.choice(["Letter", "Tabloid", "A4", "A3"])
    return with_value(text, ("job", "paper"), paper)


@pytest.mark.parametrize("seed", range(cases(8, 120)))
def test_sheets_stay_clean_whatever_is_wished(seed: int) -> None:
    made = plan(read_job(random_text(random.Random(seed))))
    assert_clean(scenes_of(made))


@pytest.mark.parametrize("name", ["kiln-shed", "yard-gate"])
def test_every_sheet_says_not_for_cutting_after_a_stop(name: str) -> None:
    for scene in scenes_of(plan(read_job(text_of(name)))):
        assert "NOT FOR CUTTING" in words_on(scene), scene.title


def test_the_demo_does_not_say_it() -> None:
    scenes = scenes_of(plan(read_job(text_of("boathouse"))))
    assert not any("NOT FOR CUTTING" in words_on(scene) for scene in scenes)


def words_by_title(made: Plan) -> dict[str, str]:
    """Return what stands on all sheets of one title."""
    told: dict[str, str] = {}
    for scene in scenes_of(made):
        told[scene.title] = f"{told.get(scene.title, '')}\n{words_on(scene)}"
    return told


def test_every_piece_of_the_cut_list_is_on_a_card_and_on_a_stick() -> None:
    made = plan(read_job(text_of("boathouse")))
    scenes = words_by_title(made)
    marks = {m.mark for leaf in made.leaves for m in leaf.members}  # type: ignore[union-attr]
    for mark in (*marks, "P-L", "P-R", "T"):
        for title in ("Cut list", "Cut cards", "Sticks to buy and cut"):
            assert re.search(rf"(?<![\w-]){re.escape(mark)}(?![\w-])", scenes[title]), (mark, title)


def test_a_card_says_which_saw_makes_each_cut_and_how_it_is_set() -> None:
    made = plan(read_job(text_of("boathouse")))
    scenes = words_by_title(made)
    cards = " ".join(scenes["Cut cards"].replace("\u00a0", " ").split())
    assert "Cold saw, square; stop 13'-9\"" in cards
    assert "Cold saw, 34.4° right" in cards
    assert "Swung left, the near end of the blade goes to your left." in cards


def test_each_drawing_says_from_where_it_is_seen_and_which_edge_hangs() -> None:
    scenes = scenes_of(plan(read_job(text_of("boathouse"))))
    for scene in scenes:
        if "leaf, hung" in scene.title:
            assert "SEEN FROM THE DOCK SIDE" in words_on(scene)
            assert "HINGE EDGE" in words_on(scene)


def test_the_long_point_of_a_brace_is_the_same_on_every_sheet() -> None:
    made = plan(read_job(text_of("boathouse")))
    words = words_of(made.job)
    brace = next(m for m in made.leaves[0].members if m.role == "brace")  # type: ignore[union-attr]
    shown = words.length(brace.length)
    scenes = scenes_of(made)
    on = [scene.title for scene in scenes if shown in words_on(scene)]
    assert {"Cut list", "Cut cards", "Left leaf, hung left"} <= set(on)
    assert brace.length.value == pytest.approx(brace.bar.long, abs=1e-9)


def test_a_fraction_is_never_parted_from_its_inches_at_a_line_end() -> None:
    scenes = scenes_of(plan(read_job(text_of("boathouse"))))
    texts = [i.text for scene in scenes for i in scene.all_items if isinstance(i, Text)]
    for text in texts:
        assert "\u00a0" in text or not re.search(r"\d+ \d+/\d+\"", text), text


def test_the_packet_on_disk_opens_and_is_whole(tmp_path: Path) -> None:
    made = plan(read_job(text_of("boathouse")))
    told: list[str] = []
    files = write_packet(made, tmp_path / "packet", progress=told.append)
    assert told
    names = {str(f.relative_to(tmp_path / "packet")) for f in files}
    assert {"packet.pdf", "left-leaf.dxf", "right-leaf.dxf", "plan.json"} <= names
    assert not list((tmp_path / "packet").glob(".*")), "a half written file was left"
    pages = PdfReader(tmp_path / "packet" / "packet.pdf").pages
    assert len(pages) == len(packet_sheets(made)) == sum(n.endswith(".svg") for n in names)
    width = float(pages[0].mediabox.width) / 72 * 25.4
    assert width == pytest.approx(431.8, abs=0.01)  # Tabloid, 17 in
    document = readfile(tmp_path / "packet" / "left-leaf.dxf")
    assert not document.audit().errors
    outlines = document.modelspace().query("LWPOLYLINE[layer=='cut']")
    corners = [p for e in outlines if isinstance(e, LWPolyline) for p in e.get_points("xy")]
    assert max(y for _, y in corners) - min(y for _, y in corners) == pytest.approx(165.0)


def test_the_same_plan_gives_the_same_bytes() -> None:
    made = plan(read_job(text_of("boathouse")))
    first = pdf_bytes(scenes_of(made), title="x")
    assert first == pdf_bytes(scenes_of(made), title="x")
    assert len(PdfReader(io.BytesIO(first)).pages) > 10


def test_right_leaf_is_drawn_as_its_own_part_mirrored() -> None:
    made = plan(read_job(text_of("boathouse")))
    left, right = made.leaves
    for a, b in zip(left.members, right.members, strict=True):  # type: ignore[union-attr]
        xs_a = sorted(x for x, _ in a.bar.outline)
        xs_b = sorted(left.width - x for x, _ in b.bar.outline)  # type: ignore[union-attr]
        assert xs_a == pytest.approx(xs_b, abs=1e-9)


def test_what_is_asked_of_both_leaves_alike_has_one_box() -> None:
    scenes = scenes_of(plan(read_job(text_of("boathouse"))))
    said = " ".join(
        i.text
        for scene in scenes
        if scene.title in ("Cover", "Open questions")
        for i in scene.all_items
        if isinstance(i, Text)
    )
    assert "Anchors of the floor plate of both leaves: do the anchors hold" in said
    assert "Anchors of the floor plate of the left leaf" not in said
    # What differs by a mark is asked of each.
    assert "The seams of the left leaf" in said
    assert "The seams of the right leaf" in said
