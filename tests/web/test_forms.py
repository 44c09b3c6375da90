"""All that a job file may hold can be said on the page: forms, errors, and what they write."""

from __future__ import annotations

import html
import re
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from leafwright.job.errors import Problem
from leafwright.job.model import Job
from leafwright.job.store import Store
from leafwright.web import create_app
from leafwright.web.fields import place_of, words_on_page
from leafwright.web.schema import model_at, slot_at, slots, value_of
from leafwright.web.trade import ASKS, ask_of
from tests.web.running import example

LEFT, RIGHT = "shape/leaf/left", "shape/leaf/right"


class Maker:
    """A maker who fills in forms of one job, in a browser without script."""

    def __init__(self, store: Store, client: TestClient, slug: str) -> None:
        self.store = store
        self.client = client
        self.slug = slug

    def at(self, page: str) -> str:
        """Return a page's text as a maker reads it."""
        answer = self.client.get(f"/job/{self.slug}/{page}")
        assert answer.status_code == 200, page
        return html.unescape(answer.text)

    def sends(self, action: str, page: str, fields: dict[str, str]) -> Any:
        """Post a form that stands on a page, and return the answer."""
        data = {"base": self.store.read(self.slug).version, "stage": page, **fields}
        return self.client.post(f"/job/{self.slug}/{action}", data=data)

    def types(self, page: str, place: str, text: str) -> Any:
        """Change one field."""
        return self.sends("edit", page, {f"f.{place}": text})

    def puts_in(self, page: str, place: str, **typed: str) -> Any:
        """Send the form of something new; a key that is a word of Python ends with ``_``."""
        named = {f"n.{place}.{key.rstrip('_')}": text for key, text in typed.items()}
        return self.sends("put-in", page, {"place": place, **named})

    def takes_out(self, page: str, place: str) -> Any:
        """Press the button that takes something out."""
        return self.sends("take-out", page, {"place": place})

    @property
    def text(self) -> str:
        """The job file."""
        return self.store.read(self.slug).text

    @property
    def data(self) -> dict[str, Any]:
        """The job file's data."""
        return tomllib.loads(self.text)


@pytest.fixture
def maker(store: Store, client: TestClient) -> Maker:
    return Maker(store, client, store.new("Boathouse", example("boathouse")).slug)


def errors_of(answer: Any) -> dict[str, str]:
    """Return what a refused page says is wrong, by the id of the field."""
    text = html.unescape(answer.text)
    return dict(re.findall(r'<span class="error" id="field-([a-z0-9-]+)-error">([^<]*)<', text))


# ---------------------------------------------------------------- one leaf of a pair


def test_one_leaf_is_made_different_and_goes_back(maker: Maker) -> None:
    page = maker.at(RIGHT)
    assert "What is left empty here is taken from what the leaves share." in page
    assert "as both leaves: HSS 2-1/2 x 2-1/2 x 3/16" in page
    before = maker.text
    assert maker.types(RIGHT, "leaf.1.frame", "HSS 3 x 3 x 3/16").status_code == 303
    assert maker.types(RIGHT, "leaf.1.corners", "mitred").status_code == 303
    assert maker.types(RIGHT, "leaf.1.swing", "away").status_code == 303
    assert maker.data["leaf"][1] == {
        "hand": "right",
        "frame": "HSS 3 x 3 x 3/16",
        "corners": "mitred",
        "swing": "away",
    }
    assert "HSS 3 x 3 x 3/16" in maker.at("buy")
    for page in ("shape", "shape/leaf/both"):
        assert "The right leaf has its own: frame, corners, swing." in maker.at(page)
    # The touched part leads to the leaf's own choice, not to the one it no longer has.
    touched = maker.at("shape?part=right/top rail").partition('id="part-title"')[2]
    assert 'name="f.leaf.1.frame" value="HSS 3 x 3 x 3/16"' in touched
    for key in ("frame", "corners", "swing"):
        maker.types(RIGHT, f"leaf.1.{key}", "")
    assert maker.text == before


@pytest.mark.parametrize("key", ["mid_rail", "brace", "infill"])
def test_a_leaf_may_have_a_list_of_its_own_even_an_empty_one(maker: Maker, key: str) -> None:
    before = maker.text
    assert "Make it different here" in maker.at(RIGHT)
    assert maker.sends("own", RIGHT, {"place": f"leaf.1.{key}"}).status_code == 303
    assert maker.data["leaf"][1][key] == maker.data["each_leaf"][key]
    assert maker.takes_out(RIGHT, f"leaf.1.{key}.0").status_code == 303
    assert maker.data["leaf"][1][key] == []
    # Remarks of the next table stay where they were.
    assert [line for line in maker.text.split("\n") if line.startswith("#")] == [
        line for line in before.split("\n") if line.startswith("#")
    ]
    assert "Back to what is shared" in maker.at(RIGHT)
    assert maker.takes_out(RIGHT, f"leaf.1.{key}").status_code == 303
    assert maker.data == tomllib.loads(before)


def test_mid_rails_are_added_moved_and_taken_out(maker: Maker) -> None:
    both = "shape/leaf/both"
    assert maker.types(both, "each_leaf.mid_rail.1", "10 ft").status_code == 303
    assert maker.types(both, "each_leaf.mid_rail.0", "5 ft").status_code == 303
    assert maker.data["each_leaf"]["mid_rail"] == [{"height": "5 ft"}, {"height": "10 ft"}]
    assert "panel 3" in maker.at(both)
    maker.types(both, "each_leaf.mid_rail.0", "")
    assert maker.data["each_leaf"]["mid_rail"] == [{"height": "10 ft"}]
    refused = maker.types(both, "each_leaf.mid_rail.0", "a bit up")
    assert "Forms that would do" in errors_of(refused)["f-each-leaf-mid-rail-0"]


def test_infill_is_put_in_changed_and_taken_out(maker: Maker) -> None:
    both, place = "shape/leaf/both", "each_leaf.infill"
    weight = re.search(r"hung ([0-9]+) lb", maker.at(both))
    mesh = {"kind": "mesh", "on": "face", "panel": "2", "opening": "1-1/2 in", "wire": "0.135 in"}
    assert maker.puts_in(both, place, **mesh).status_code == 303
    assert maker.data["each_leaf"]["infill"][1] == {**mesh, "panel": 2}
    assert "mesh on the face, toward you, panel 2" in maker.at(both)
    heavier = re.search(r"hung ([0-9]+) lb", maker.at(both))
    assert weight and heavier and int(heavier[1]) > int(weight[1])
    assert maker.types(both, f"{place}.1.panel", "each").status_code == 303
    assert maker.takes_out(both, f"{place}.1").status_code == 303
    assert len(maker.data["each_leaf"]["infill"]) == 1


def test_braces_are_put_in_and_what_is_wrong_stays_as_typed(maker: Maker) -> None:
    maker.sends("own", LEFT, {"place": "leaf.0.brace"})
    wrong = {"pattern": "X", "panel": "whole leaf", "section": "round bar of sorts"}
    refused = maker.puts_in(LEFT, "leaf.0.brace", **wrong)
    assert refused.status_code == 422
    at = errors_of(refused)
    assert "would run through the mid rails" in at["n-leaf-0-brace-panel"]
    assert "Choose another" in at["n-leaf-0-brace-section"]
    assert 'value="round bar of sorts"' in refused.text
    rod = {**wrong, "pattern": "rod", "foot": "closing stile", "section": "round bar 1/2 in"}
    assert maker.puts_in(LEFT, "leaf.0.brace", **rod).status_code == 303
    assert maker.data["leaf"][0]["brace"][1]["pattern"] == "rod"


def test_a_pair_that_shares_nothing_has_a_page_for_each_leaf(
    store: Store, client: TestClient
) -> None:
    text = example("boathouse").replace("[[leaf]]\n", "")
    shared = text[text.index("[each_leaf]") : text.index('hand = "left"')]
    rest = text[text.index("# ----", text.index('hand = "right"')) :]
    alone = shared.replace("each_leaf.", "leaf.").replace("[each_leaf]", "[[leaf]]")
    leaves = "".join(alone.replace("\n", f'\nhand = "{hand}"\n', 1) for hand in ("left", "right"))
    whole = text[: text.index("[each_leaf]")] + leaves + rest
    maker = Maker(store, client, store.new("Own", whole).slug)
    page = maker.at("shape")
    assert "Both leaves" not in page and "Frame of the leaves" not in page
    assert "as both leaves" not in maker.at(RIGHT)
    assert maker.types(RIGHT, "leaf.1.frame", "HSS 3 x 3 x 3/16").status_code == 303
    assert client.get(f"/job/{maker.slug}/shape/leaf/both").status_code == 404


# ---------------------------------------------------------------- what a leaf turns on


def test_a_mount_is_changed_to_another_kind_that_says_what_it_needs(maker: Maker) -> None:
    both, place = "shape/leaf/both", "each_leaf.mount"
    asked = maker.at(f"{both}?mount=barrel hinge")
    assert "Change to a barrel hinge" in asked
    # What both kinds have is taken over.
    assert 'name="n.each_leaf.mount.pin_diameter" value="1.4990 in"' in asked
    refused = maker.puts_in(both, place, kind="barrel hinge", standoff="", heights="8 in")
    at = errors_of(refused)
    assert at["n-each-leaf-mount-standoff-barrel-hinge"].startswith("This is needed")
    assert at["n-each-leaf-mount-heights-barrel-hinge"] == "Found a list of 1. Write at least 2"
    assert 'value="8 in"' in refused.text
    done = maker.puts_in(both, place, kind="barrel hinge", standoff="3 in", heights="8 in; 150 in")
    assert done.status_code == 303
    assert maker.data["each_leaf"]["mount"] == {
        "kind": "barrel hinge",
        "standoff": "3 in",
        "heights": ["8 in", "150 in"],
    }
    assert maker.types(both, f"{place}.heights", "8 in; 80 in; 150 in").status_code == 303
    maker.sends("undo", both, {})
    maker.sends("undo", both, {})
    assert maker.data["each_leaf"]["mount"]["ball_diameter"] == "1.5 in"


def test_one_leafs_mount_may_differ_in_one_size_or_in_kind(maker: Maker) -> None:
    before = maker.text
    assert maker.types(RIGHT, "leaf.1.mount.plate.width", "7 in").status_code == 303
    assert maker.data["leaf"][1]["mount"] == {"plate": {"width": "7 in"}}
    maker.types(RIGHT, "leaf.1.mount.plate.width", "")
    assert maker.text == before
    hung = {"kind": "barrel hinge", "standoff": "3 in", "heights": "8 in; 150 in"}
    assert maker.puts_in(RIGHT, "leaf.1.mount", **hung).status_code == 303
    assert maker.data["leaf"][1]["mount"]["kind"] == "barrel hinge"
    assert maker.data["each_leaf"]["mount"]["kind"] == "floor pivot"
    assert maker.takes_out(RIGHT, "leaf.1.mount").status_code == 303
    assert maker.text == before


def test_a_bolt_is_put_in_whole(maker: Maker) -> None:
    both, place = "shape/leaf/both", "each_leaf.mount.bolt"
    assert maker.takes_out(both, place).status_code == 303
    refused = maker.puts_in(both, place, grade="A325")
    assert errors_of(refused)["n-each-leaf-mount-bolt-size"].startswith("This is needed")
    assert maker.puts_in(both, place, size="3/4-10", hole="13/16 in").status_code == 303
    assert maker.types(both, f"{place}.grade", "unknown").status_code == 303
    assert maker.data["each_leaf"]["mount"]["bolt"]["grade"] == "unknown"
    assert maker.takes_out(both, place).status_code == 303
    assert "bolt" not in maker.data["each_leaf"]["mount"]


# ---------------------------------------------------------------- marks and readings


def test_a_mark_of_ones_own_is_put_in_read_to_and_kept_while_it_is_read_to(maker: Maker) -> None:
    page = "measure/marks"
    mark = {"name": "nail", "near_x": "2 ft", "near_y": "6 ft"}
    assert maker.puts_in(page, "mark", **mark).status_code == 303
    for start, is_ in (("BL", "6'-4"), ("BR", "10'-5"), ("TL", "8'-6")):
        new = {"kind": "distance", "from_": start, "to": "nail", "is_": is_}
        assert maker.puts_in(page, "reading", on="2026-03-14", by="tape", **new).status_code == 303
    assert maker.data["reading"][20] == {
        "kind": "distance",
        "from": "BL",
        "to": "nail",
        "is": "6'-4",
        "by": "tape",
        "on": date(2026, 3, 14),
    }
    assert "bottom left to nail" in maker.at("measure")
    refused = maker.takes_out(page, "mark.0")
    assert refused.status_code == 422 and "No mark is called" in html.unescape(refused.text)
    # A mark that only one reading reaches is said to be unsettled, and nothing is lost.
    assert (
        maker.takes_out("measure/reading/22", "reading.22").headers["location"].endswith("/measure")
    )
    assert len(maker.data["reading"]) == 22


def test_every_kind_of_reading_can_be_put_in(maker: Maker) -> None:
    kinds: tuple[tuple[str, dict[str, str]], ...] = (
        ("rise", {"from_": "BL", "to": "BR", "is_": "-5/8 in", "by": "level"}),
        ("plumb", {"from_": "L@mid", "to": "TL", "is_": "1/8 in", "toward": "outward"}),
        ("level", {"at": "L@mid", "is_": "50 in", "plane": "second"}),
        ("distance", {"from_": "L@mid", "to": "TR", "is_": "13'-7"}),
        ("floor", {"leaf": "left", "out": "30 in", "is_": "0.1 in", "above": "BR"}),
    )
    for number, (kind, typed) in enumerate(kinds, start=20):
        answer = maker.puts_in("measure/marks", "reading", kind=kind, **typed)
        assert answer.status_code == 303, kind
        kept = maker.data["reading"][number]
        assert kept == {"kind": kind, **{key.rstrip("_"): text for key, text in typed.items()}}
        shown = maker.at(f"measure/reading/{number}")
        assert all(f'value="{text}"' in shown for text in typed.values()), kind


def test_a_reading_to_no_mark_is_refused_in_its_own_form_only(maker: Maker) -> None:
    refused = maker.puts_in(
        "measure/marks", "reading", kind="rise", from_="BL", to="nial", is_="1 in"
    )
    assert refused.status_code == 422
    wrong = [name for name in errors_of(refused) if name.startswith("n-reading-to")]
    assert wrong == ["n-reading-to-rise"]
    assert refused.text.count('value="nial"') == 1


def test_a_reading_is_set_aside_with_a_reason_and_counts_again(maker: Maker) -> None:
    page = "measure/reading/2"
    assert maker.types(page, "reading.2.set_aside", "the tape sagged").status_code == 303
    assert "It is set aside, because the tape sagged." in maker.at(page)
    assert "It counts again" in maker.at("measure")
    assert maker.takes_out(page, "reading.2.set_aside").status_code == 303
    assert "It counts again: width at the head" not in maker.at("measure")


# ---------------------------------------------------------------- building, loads, shop, job


SAID: dict[str, dict[str, tuple[str, object]]] = {
    "prove/building": {
        "building.beam": ("unknown", "unknown"),
        "building.powered": ("yes", True),
        "building.indoors": ("yes", "yes"),
        "building.least_temperature": ("20 F", "20 F"),
        "building.anchor.per_plate": ("6", 6),
    },
    "prove/loads": {
        "loads.person": ("220 lb", "220 lb"),
        "limits.racking": ("1/4 in", "1/4 in"),
        "basis.country": ("CA", "CA"),
    },
    "buy/stock": {
        "stock.lengths": ("20 ft; 21 ft", ["20 ft", "21 ft"]),
        "saw.mitre_range": ("60 deg", "60 deg"),
        "power.breaker_amps": ("15.5", 15.5),
        "weld.process": ("SMAW", "SMAW"),
        "weld.gas_flow": ("30 ft3/h", "30 ft3/h"),
    },
    "buy/prices": {"price.shop": ("99 /h", "99 /h")},
    "shape/job": {
        "job.crew": ("3", 3),
        "job.surveyed": ("2026-04-01", date(2026, 4, 1)),
        "opening.head": ("no", False),
    },
}


@pytest.mark.parametrize("page", SAID)
def test_what_the_file_holds_is_changed_where_a_maker_looks_for_it(maker: Maker, page: str) -> None:
    before = maker.at(page)
    typed = {f"f.{place}": text for place, (text, _) in SAID[page].items()}
    assert all(f'name="{name}"' in before for name in typed)
    assert maker.sends("edit", page, typed).status_code == 303
    after = maker.at(page)
    for place, (text, kept) in SAID[page].items():
        found: Any = maker.data
        for part in place.split("."):
            found = found[part]
        assert found == kept and type(found) is type(kept), place
        shown = re.search(rf'name="f.{re.escape(place)}" value="([^"]*)"', after)
        assert shown is None or shown[1] == text, place


@pytest.mark.parametrize(
    ("page", "place", "typed", "kept"),
    [
        (
            "prove/building",
            "post",
            {"section": "HSS 6 x 6 x 1/4", "height": "7'-6"},
            {"section": "HSS 6 x 6 x 1/4", "height": "7'-6"},
        ),
        (
            "prove/loads",
            "wind",
            {"standard": "ASCE 7", "speed": "105 mph", "K_z": "0.85", "exposure": "C"},
            {"standard": "ASCE 7", "speed": "105 mph", "K_z": 0.85, "exposure": "C"},
        ),
        (
            "buy/stock",
            "offcut",
            {"section": "HSS 3 x 3 x 3/16", "length": "6'-4", "count": "2"},
            [{"section": "HSS 3 x 3 x 3/16", "length": "6'-4", "count": 2}],
        ),
        (
            "buy/steel",
            "grade",
            {
                "name": "heat 9",
                "yield_strength": "50 ksi",
                "ultimate_strength": "62 ksi",
                "source": "certificate 9",
            },
            [
                {
                    "name": "heat 9",
                    "yield_strength": "50 ksi",
                    "ultimate_strength": "62 ksi",
                    "source": "certificate 9",
                }
            ],
        ),
    ],
)
def test_what_is_not_there_yet_is_put_in_and_taken_out(
    maker: Maker, page: str, place: str, typed: dict[str, str], kept: object
) -> None:
    before = maker.data
    assert f'name="n.{place}.' in maker.at(page)
    assert maker.puts_in(page, place, **typed).status_code == 303
    there = before.get(place, [])
    assert maker.data[place] == ([*there, *kept] if isinstance(kept, list) else kept)
    out = f"{place}.{len(there)}" if isinstance(kept, list) else place
    assert maker.takes_out(page, out).status_code == 303
    assert maker.data == before


def test_prices_are_put_in_under_any_name(maker: Maker) -> None:
    page = "buy/prices"
    put = maker.puts_in(page, "price", name="fire watch", rate="55 /h")
    assert put.status_code == 303 and maker.data["price"]["fire_watch"] == "55 /h"
    assert "Take it out: fire watch" in maker.at(page)
    bad_name = maker.puts_in(page, "price", name="a.b", rate="55 /h")
    assert "a name of one word" in errors_of(bad_name)["n-price-name"]
    bad_rate = maker.puts_in(page, "price", name="hire", rate="a lot")
    assert "Forms that would do" in errors_of(bad_rate)["n-price-rate"]
    assert 'value="a lot"' in bad_rate.text
    assert maker.takes_out(page, "price.fire_watch").status_code == 303
    assert "fire_watch" not in maker.data["price"]


def test_what_cannot_be_done_without_is_not_taken_out(maker: Maker) -> None:
    before = maker.text
    refused = maker.takes_out("shape/leaf/both", "each_leaf.mount")
    assert refused.status_code == 422 and "It was not done." in refused.text
    assert maker.types("shape/leaf/both", "each_leaf.frame", "").status_code == 422
    assert maker.text == before


@pytest.mark.parametrize("place", ["", "nowhere", "reading.0.is", "leaf.0.frame", "each_leaf", "0"])
def test_a_form_that_names_no_place_changes_nothing(maker: Maker, place: str) -> None:
    before = maker.text
    assert maker.puts_in("shape/job", place, kind="x").status_code in (409, 422)
    assert maker.sends("own", RIGHT, {"place": place}).status_code == 409
    assert maker.text == before


def test_a_page_that_no_stage_has_is_not_found(maker: Maker) -> None:
    for page in ("shape/none", "measure/reading/99", "shape/leaf/middle", "prove/", "x/y"):
        assert maker.client.get(f"/job/{maker.slug}/{page}").status_code == 404, page


# ---------------------------------------------------------------- answers


def test_an_answer_closes_what_was_asked_until_it_runs_out(store: Store) -> None:
    today = [date(2026, 6, 1)]
    client = TestClient(
        create_app(store, today=lambda: today[0]),
        base_url="http://127.0.0.1:8420",
        client=("127.0.0.1", 50000),
        follow_redirects=False,
    )
    maker = Maker(store, client, store.new("Boathouse", example("boathouse")).slug)
    assert 'href="/job/boathouse/prove?answer=building/slab#answer"' in maker.at("prove")
    form = maker.at("prove?answer=building/slab")
    assert 'name="n.answer.about" value="building/slab"' in form
    typed = {"about": "building/slab", "says": "no tendons near", "by": "an engineer"}
    refused = maker.puts_in("prove", "answer", **typed)
    assert errors_of(refused)["n-answer-document"].startswith("This is needed")
    assert "no tendons near" in refused.text
    typed |= {"document": "scan 12", "on": "2026-05-01", "until": "2026-12-31"}
    assert maker.puts_in("prove", "answer", **typed).status_code == 303
    assert "?answer=building/slab" not in maker.at("prove")
    assert "Answers given: 1" in maker.at("prove")
    assert "In force until 2026-12-31." in maker.at("prove/answers")
    today[0] = date(2027, 1, 1)
    assert "?answer=building/slab" in maker.at("prove")
    assert "It has run out: it is asked again." in maker.at("prove/answers")
    wrong = maker.types("prove/answers", "answer.0.until", "2026-01-01")
    assert "put the day it runs out" in errors_of(wrong)["f-answer-0-until"].lower()
    assert maker.types("prove/answers", "answer.0.until", "2027-12-31").status_code == 303
    assert "?answer=building/slab" not in maker.at("prove")
    assert maker.takes_out("prove/answers", "answer.0").status_code == 303
    assert "None yet." in maker.at("prove/answers")


def test_two_makers_put_in_different_things_and_both_are_kept(maker: Maker) -> None:
    base = maker.store.read(maker.slug).version
    assert maker.puts_in("measure/marks", "mark", name="a", near_x="1 ft", near_y="1 ft")
    late = {
        "base": base,
        "stage": "measure/marks",
        "place": "mark",
        "n.mark.name": "b",
        "n.mark.near_x": "2 ft",
        "n.mark.near_y": "2 ft",
    }
    answer = maker.client.post(f"/job/{maker.slug}/put-in", data=late)
    assert answer.status_code == 303
    assert [mark["name"] for mark in maker.data["mark"]] == ["a", "b"]


# ---------------------------------------------------------------- the model behind the forms


def shared_by(name: str) -> tuple[str, ...]:
    """Return the names under which a table's kinds share their words."""
    return ("Reading", *(f"{kind}Reading" for kind in ("FitUp", "Hung") if name.startswith(kind)))


def test_every_field_of_these_forms_has_words_of_the_trade() -> None:
    shown = {table for table, _ in ASKS}
    models = [model for slot in slots(Job).values() for model in slot.models]
    for model in models:
        models += [m for slot in slots(model).values() for m in slot.models if m not in models]
    named = {model.__name__: model for model in models}
    missing = [
        f"{name}.{key}"
        for name, model in named.items()
        if name in shown
        for key, slot in slots(model).items()
        if (name, key) not in ASKS
        and slot.kind not in ("table", "tables")
        and key not in ("kind", "hand", "about", "toward")
        and name not in ("DoorwayTable", "MidRail")
        and all((shared, key) not in ASKS for shared in shared_by(name))
    ]
    assert missing == []
    unknown = [f"{t}.{k}" for t, k in ASKS if t in named and k not in slots(named[t])]
    assert unknown == []
    assert ask_of("Nothing", "some_key").label == "Some key"


def test_a_place_is_known_by_its_model() -> None:
    data = tomllib.loads(Path("examples/boathouse.toml").read_text(encoding="utf-8"))
    for place, name in (
        ("each_leaf.mount", "FloorPivot"),
        ("leaf.1.mount", "FloorPivot"),
        ("leaf.0.mount.plate", "Plate"),
        ("reading.3", "DistanceReading"),
        ("building.anchor", "Anchor"),
    ):
        model = model_at(place_of(place), data)
        assert model is not None and model.__name__ == name
    for place in ("nowhere", "reading.3.is", "reading.0.0", "0.reading", "leaf.0.mount.none"):
        assert model_at(place_of(place), data) is None, place
    slot = slot_at(place_of("offcut.0.count"), data)
    assert value_of(slot, "2") == 2 and value_of(slot, "two") == "two"


def test_what_is_wrong_is_told_as_to_one_who_types_in_fields() -> None:
    told = words_on_page(
        Problem(("post", "height"), 3, "found 'x'", "write a whole number, without quotes")
    )
    assert told == "Found 'x'. Write a whole number"
