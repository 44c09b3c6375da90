"""Every page without script: whole, escaped, small; forms, conflicts, ticks, files."""

from __future__ import annotations

import io
import json
import re
import zipfile
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from leafwright.job.store import Store
from leafwright.web.assets import asset
from tests.web.running import EXAMPLES, example

STAGES = ("", "measure", "shape", "prove", "buy", "build", "hang", "hand-over")
UNDER = (
    "measure/marks",
    "measure/reading/5",
    "measure/obstacles",
    "shape/swing",
    "shape/leaf/left",
    "shape/job",
    "prove/building",
    "prove/calculation",
    "prove/loads",
    "prove/answers",
    "buy/holes",
    "buy/pack",
    "buy/stock",
    "buy/prices",
    "buy/steel",
    "build/seams",
    "build/order",
)
OTHERS = ("history", "file", "take-away")
KEPT_BYTES = 150_000


@pytest.fixture
def slug(store: Store) -> str:
    return store.new("Boathouse", example("boathouse")).slug


def version_on(page: str) -> str:
    found = re.search(r'name="base" value="([0-9a-f]{16})"', page)
    assert found is not None
    return found[1]


def edit(client: TestClient, slug: str, base: str, **fields: str) -> tuple[int, str]:
    """Post fields as a browser without script does; return status and the page that follows."""
    data = {"base": base, "stage": "shape"}
    data |= {f"f.{name.replace('__', '.')}": value for name, value in fields.items()}
    answer = client.post(f"/job/{slug}/edit", data=data)
    if answer.status_code == 303:
        return 303, client.get(answer.headers["location"]).text
    return answer.status_code, answer.text


@pytest.mark.parametrize("name", ["boathouse", "kiln-shed", "yard-gate"])
def test_every_page_of_every_example_is_there_and_small(
    client: TestClient, store: Store, name: str
) -> None:
    slug = store.new(name, example(name)).slug
    for page in (*STAGES, *UNDER, *OTHERS):
        answer = client.get(f"/job/{slug}/{page}".rstrip("/"))
        assert answer.status_code == 200, page
        loaded = re.findall(r'(?:href|src)="/static/[0-9a-f]+/([^"]+)"', answer.text)
        assert "page.css" in loaded
        size = len(answer.content) if len(answer.content) < 800 else _zipped(answer.content)
        size += sum(_zipped(asset(file) or b"") for file in set(loaded) | {"words-bold.woff"})
        assert size <= KEPT_BYTES, f"{page}: {size}"


def _zipped(content: bytes) -> int:
    import gzip

    return len(gzip.compress(content, 5))


def test_no_page_has_inline_script_or_style_or_asks_elsewhere(
    client: TestClient, slug: str
) -> None:
    pages = ["/", "/enter", "/phone", *(f"/job/{slug}/{p}" for p in (*STAGES[1:], *UNDER, *OTHERS))]
    pages += [f"/job/{slug}/shape?part=left/brace-1", f"/job/{slug}/buy?card=1"]
    for page in pages:
        text = client.get(page).text
        assert not re.search(r"<script(?![^>]* src=)", text), page
        assert not re.search(r"<style|\sstyle=|\son[a-z]+=", text), page
        links = re.findall(r'(?:href|src|action)="([^"]*)"', text)
        assert all(link.startswith(("/", "#")) for link in links), page


def test_a_name_and_a_note_never_become_markup(client: TestClient, store: Store) -> None:
    nasty = '<script>alert(1)</script>"><img src=x>'
    text = example("boathouse").replace('"Boathouse doors"', f"'''{nasty}'''")
    text = text.replace('seen_from = "dock side"', "seen_from = '<b>dock</b>'")
    text = text.replace("2 in too long against all the rest", nasty.replace('"', ""))
    text = text.replace("[basis]", "note = '''<svg onload=alert(1)>'''\n\n[basis]", 1)
    slug = store.new("nasty", text).slug
    for page in (*STAGES, *UNDER, *OTHERS):
        shown = client.get(f"/job/{slug}/{page}".rstrip("/")).text
        assert "<script>alert" not in shown and "<img src=x" not in shown, page
        assert "<b>dock" not in shown and "<svg onload" not in shown, page
    assert "<script>alert" not in client.get("/").text


def test_a_changed_gap_is_saved_and_told(client: TestClient, store: Store, slug: str) -> None:
    page = client.get(f"/job/{slug}/shape").text
    status, after = edit(client, slug, version_on(page), doorway__meeting_gap="3/8 in")
    assert status == 303
    assert 'meeting_gap = "3/8 in"' in store.read(slug).text
    assert "Left leaf, width" in after and "The last edit:" in after


def test_a_mistake_is_told_at_its_field_and_stays_as_typed(
    client: TestClient, store: Store, slug: str
) -> None:
    before = store.read(slug)
    status, page = edit(client, slug, before.version, doorway__meeting_gap="16-2 3/4")
    assert status == 422
    field = re.search(r'<input id="field-f-doorway-meeting-gap"[^>]*>', page)
    assert field is not None
    assert 'value="16-2 3/4"' in field[0] and 'aria-invalid="true"' in field[0]
    error = re.search(r'id="field-f-doorway-meeting-gap-error">([^<]*)<', page)
    assert error is not None and "Forms that would do" in error[1]
    assert store.read(slug) == before


def test_a_field_saved_untouched_keeps_what_was_typed(
    client: TestClient, store: Store, slug: str
) -> None:
    base = store.read(slug).version
    _, page = edit(client, slug, base, doorway__leaf_height="4191 mm")
    form = dict(re.findall(r'name="(f\.doorway\.[a-z_]+)" value="([^"]*)"', page))
    assert form["f.doorway.leaf_height"] == "4191 mm"
    before = store.read(slug)
    data = {"base": before.version, "stage": "shape", **form}
    assert client.post(f"/job/{slug}/edit", data=data).status_code == 303
    assert store.read(slug) == before


def test_a_default_is_written_only_where_it_is_typed(
    client: TestClient, store: Store, slug: str
) -> None:
    base = store.read(slug).version
    edit(client, slug, base, limits__nose_sag="", loads__person="220 lb")
    text = store.read(slug).text
    assert 'person = "220 lb"' in text and "nose_sag" not in text


def test_section_bracing_and_mid_rails_can_be_changed(
    client: TestClient, store: Store, slug: str
) -> None:
    base = store.read(slug).version
    status, _ = edit(
        client,
        slug,
        base,
        each_leaf__frame="HSS 3 x 3 x 3/16",
        each_leaf__mid_rail="4 ft; 9 ft",
        each_leaf__brace__0__pattern="X",
    )
    assert status == 303
    cuts = client.get(f"/api/jobs/{slug}/cuts").json()
    marks = {about for line in cuts for about in line["ticks"]}
    assert "cut/left/mid rail-2" in marks
    assert "HSS 3 x 3 x 3/16" in client.get(f"/job/{slug}/buy").text


def test_a_field_that_no_job_has_is_refused(client: TestClient, store: Store, slug: str) -> None:
    before = store.read(slug)
    for name in ("nowhere__at__all", "reading__999__is", "job__x" * 20):
        status, _ = edit(client, slug, before.version, **{name: "1 in"})
        assert status in (409, 422), name
    assert store.read(slug).text == before.text


def test_two_edits_of_one_place_are_both_shown_and_both_kept(
    client: TestClient, store: Store, slug: str
) -> None:
    base = store.read(slug).version
    edit(client, slug, base, doorway__meeting_gap="3/8 in")
    status, page = edit(client, slug, base, doorway__meeting_gap="5/16 in")
    assert status == 409
    assert "3/8 in" in page and "5/16 in" in page and "1/4 in" in page
    assert 'meeting_gap = "3/8 in"' in store.read(slug).text
    texts = [store.version_text(slug, v.number) for v in store.versions(slug)]
    assert any('meeting_gap = "5/16 in"' in text for text in texts)
    status, _ = edit(client, slug, version_on(page), doorway__meeting_gap="5/16 in")
    assert status == 303


def test_two_edits_of_different_places_are_merged(
    client: TestClient, store: Store, slug: str
) -> None:
    base = store.read(slug).version
    edit(client, slug, base, doorway__meeting_gap="3/8 in")
    assert edit(client, slug, base, doorway__running_clearance="1/4 in")[0] == 303
    text = store.read(slug).text
    assert 'meeting_gap = "3/8 in"' in text and 'running_clearance = "1/4 in"' in text


def test_a_page_from_a_version_that_is_not_known_changes_nothing(
    client: TestClient, store: Store, slug: str
) -> None:
    before = store.read(slug)
    status, page = edit(client, slug, "0" * 16, doorway__meeting_gap="3/8 in")
    assert status == 409 and "reload the page" in page
    assert store.read(slug) == before


def test_readings_are_added_set_aside_and_taken_out(
    client: TestClient, store: Store, slug: str
) -> None:
    base = store.read(slug).version
    new = {"base": base, "stage": "measure", "kind": "width-at", "at": "40 in", "is": "10'-6 13/16"}
    assert client.post(f"/job/{slug}/add-reading", data=new).status_code == 303
    page = client.get(f"/job/{slug}/measure").text
    assert "width at 40 in up" in page and "14 readings agree, 6 unchecked" in page
    base = store.read(slug).version
    aside = {"base": base, "stage": "measure", "f.reading.20.set_aside": "tape sagged"}
    client.post(f"/job/{slug}/edit", data=aside)
    assert "set aside: tape sagged" in client.get(f"/job/{slug}/measure").text
    again = {"base": store.read(slug).version, "stage": "measure", "place": "reading.20.set_aside"}
    assert client.post(f"/job/{slug}/take-out", data=again).status_code == 303
    assert "set aside: tape sagged" not in client.get(f"/job/{slug}/measure").text
    gone = {"base": store.read(slug).version, "stage": "measure", "place": "reading.20"}
    assert client.post(f"/job/{slug}/take-out", data=gone).status_code == 303
    assert "40 in" not in store.read(slug).text.split("[[reading]]")[-1]
    assert client.post(f"/job/{slug}/add-reading", data=new | {"is": "x"}).status_code == 422


def test_the_readings_are_told_of_in_plain_words(client: TestClient, slug: str) -> None:
    page = client.get(f"/job/{slug}/measure").text
    assert "The readings agree with one another." in page
    assert "Sum of the squared misfits, each over its sd:" in page
    assert "weighted" not in page


def test_a_doubtful_reading_is_pointed_at(client: TestClient, store: Store) -> None:
    slug = store.new("kiln", example("kiln-shed")).slug
    page = client.get(f"/job/{slug}/measure").text
    assert "The readings cannot tell which is wrong" in page
    assert "in doubt, it or another" in page
    assert "Not for cutting." in page


def test_a_touched_part_shows_numbers_checks_and_why(client: TestClient, slug: str) -> None:
    page = client.get(f"/job/{slug}/shape?part=left/brace-1").text
    assert 'id="part-title">A-B1: brace, left leaf<' in page
    assert "Long point to long point" in page and "AISC 360-22" in page
    # The chain ends at what was read with a tape.
    assert re.search(r'class="base">[^<]*– read, 10&#39;-6 11/16 by tape', page)
    gap = client.get(f"/job/{slug}/shape?part=doorway/meeting gap").text
    assert 'name="f.doorway.meeting_gap"' in gap.partition('id="part-title"')[2]
    assert "There is no such part" in client.get(f"/job/{slug}/shape?part=none").text


def test_the_drawing_names_every_part_for_a_screen_reader(client: TestClient, slug: str) -> None:
    page = client.get(f"/job/{slug}/shape").text
    assert re.search(r'<a [^>]*aria-label="A-HS, hanging stile, [^"]+"', page)
    assert re.search(r'<a [^>]*aria-label="meeting gap, 1/4&#34;"', page)


def test_checks_stand_in_the_order_in_which_they_need_the_maker(
    client: TestClient, slug: str
) -> None:
    page = client.get(f"/job/{slug}/prove").text
    order = re.findall(r'class="check (short|tight|ask|ok)"', page)
    rank = {"short": 0, "tight": 1, "ask": 2, "ok": 3}
    assert order == sorted(order, key=lambda word: rank[word])
    for way in ("as drawn", "no brace", "turned round"):
        assert way in page
    assert re.search(r"pressed \d+ lbf", page) and "× as large" in page


def test_a_tick_is_kept_and_a_later_change_is_seen(
    client: TestClient, store: Store, slug: str
) -> None:
    page = client.get(f"/job/{slug}/buy?card=1").text
    form = dict(re.findall(r'name="(about|hash|entry|done)" value="([^"]*)"', page))
    data = {**form, "stage": "buy", "card": "1"}
    assert client.post(f"/job/{slug}/tick", data=data).status_code == 303
    client.post(f"/job/{slug}/tick", data=data)
    assert len(store.log(slug)) == 1
    assert 'class="tick done"' in client.get(f"/job/{slug}/buy?card=1").text
    base = store.read(slug).version
    edit(client, slug, base, doorway__leaf_height="13'-8", doorway__running_clearance="1/4 in")
    edit(client, slug, store.read(slug).version, each_leaf__frame="HSS 3 x 3 x 3/16")
    edit(client, slug, store.read(slug).version, doorway__jamb__section="HSS 2 x 2 x 1/8")
    pages = [client.get(f"/job/{slug}/buy?card={n}").text for n in range(1, 8)]
    assert any("changed since it was ticked" in page for page in pages)
    assert "1 changed since ticked: look again" in client.get(f"/job/{slug}").text


def test_a_cut_card_tells_each_cut_in_order(client: TestClient, slug: str) -> None:
    pages = [client.get(f"/job/{slug}/buy?card={n}").text for n in range(1, 7)]
    brace = next(page for page in pages if 'id="card-title">4 × A-B1' in page)
    card = brace.split('id="card"')[1].replace("\u00a0", " ").replace("&#39;", "'")
    steps = [
        "Cold saw, square; stop 7'-11 7/16",
        "Cold saw, 34.4° right; the upper edge stays longer; stop 7'-10 9/16",
        "Grinder, by hand: from 1 1/4",
    ]
    places = [card.index(step) for step in steps]
    assert places == sorted(places)


def test_undo_redo_names_and_restore(client: TestClient, store: Store, slug: str) -> None:
    first = store.read(slug)
    edit(client, slug, first.version, doorway__meeting_gap="3/8 in")
    changed = store.read(slug)
    client.post(f"/job/{slug}/undo", data={"base": changed.version, "stage": "shape"})
    assert store.read(slug).text == first.text
    client.post(f"/job/{slug}/redo", data={"base": store.read(slug).version})
    assert store.read(slug).text == changed.text
    number = store.versions(slug)[0].number
    client.post(f"/job/{slug}/name-version", data={"number": str(number), "name": "as measured"})
    assert "as measured" in client.get(f"/job/{slug}/history").text
    data = {"number": str(number), "base": store.read(slug).version}
    assert client.post(f"/job/{slug}/restore", data=data).status_code == 303
    assert store.read(slug).text == first.text


def test_files_can_be_taken_away(client: TestClient, store: Store, slug: str) -> None:
    assert b"SECTION" in client.get(f"/job/{slug}/dxf/left").content
    assert json.loads(client.get(f"/job/{slug}/plan.json").content)["job"] == "Boathouse doors"
    assert client.get(f"/job/{slug}/job.toml").text == store.read(slug).text
    whole = client.get(f"/job/{slug}/job.zip").content
    assert "job.toml" in zipfile.ZipFile(io.BytesIO(whole)).namelist()
    back = client.post("/import", files={"file": ("again.zip", whole)})
    assert back.status_code == 303
    assert store.read(back.headers["location"].rpartition("/")[2]).text == store.read(slug).text


def test_jobs_are_copied_renamed_and_put_aside(client: TestClient, store: Store, slug: str) -> None:
    copied = client.post(f"/job/{slug}/duplicate", data={"name": "The copy"})
    assert copied.headers["location"] == "/job/the-copy"
    renamed = client.post("/job/the-copy/rename", data={"name": "Another"})
    assert renamed.headers["location"] == "/job/another"
    assert client.post("/job/another/remove").status_code == 200
    assert [job.slug for job in store.jobs()] == [slug]


def test_a_broken_file_is_shown_with_lines_and_can_be_mended(
    client: TestClient, store: Store, slug: str
) -> None:
    good = store.read(slug)
    broken = store.save(slug, good.text.replace('"pair"', '"pare"'), base=good.version)
    page = client.get(f"/job/{slug}").text
    assert "cannot be read" in page and "line " in page and "&#39;pair&#39;" in page
    assert "to put right" in client.get("/").text
    data = {"base": getattr(broken, "version", ""), "text": good.text.replace("\n", "\r\n")}
    assert client.post(f"/job/{slug}/file", data=data).status_code == 303
    assert store.read(slug).text == good.text


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("binary.toml", bytes(range(256)) * 8),
        ("deep.toml", b"a = " + b"[" * 5000 + b"]" * 5000),
        ("bomb.zip", b"PK\x03\x04" + b"\0" * 400),
        ("empty.toml", b""),
        ("../../escape.toml", b"\xff\xfe"),
    ],
)
def test_a_hostile_upload_is_told_or_kept_and_breaks_nothing(
    client: TestClient, store: Store, name: str, content: bytes, tmp_path: Path
) -> None:
    before = {p for p in tmp_path.rglob("*") if "shelf" not in p.parts}
    answer = client.post("/import", files={"file": (name, content)})
    assert answer.status_code in (303, 422)
    assert client.get("/").status_code == 200
    for job in store.jobs():
        assert client.get(f"/job/{job.slug}").status_code in (200, 404)
    assert {p for p in tmp_path.rglob("*") if "shelf" not in p.parts} == before


def test_a_zip_that_would_leave_the_shelf_is_refused(
    client: TestClient, store: Store, tmp_path: Path
) -> None:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as packed:
        packed.writestr("job.toml", example("boathouse"))
        packed.writestr("../../../outside.toml", "a = 1")
    assert client.post("/import", files={"file": ("x.zip", held.getvalue())}).status_code == 422
    assert not list(tmp_path.rglob("outside.toml"))


def test_a_newer_job_file_is_left_as_it_is(client: TestClient, store: Store) -> None:
    newer = example("boathouse").replace("leafwright = 1 ", "leafwright = 99 ", 1)
    answer = client.post("/import", files={"file": ("newer.toml", newer.encode())})
    assert answer.status_code in (303, 422)
    for job in store.jobs():
        page = client.get(f"/job/{job.slug}").text
        assert "use a newer Leafwright" in page
        assert store.read(job.slug).text == newer


def test_the_demo_is_the_example(store: Store) -> None:
    from importlib import resources

    demo = resources.files("leafwright.web").joinpath("demo.toml").read_text(encoding="utf-8")
    assert demo == (EXAMPLES / "boathouse.toml").read_text(encoding="utf-8")


def test_what_is_not_there_yet_is_said_where_it_would_be(client: TestClient, slug: str) -> None:
    assert "The price is not worked" in client.get(f"/job/{slug}/buy").text


def test_a_stop_of_a_later_stage_holds_until_that_is_worked_out_again(
    client: TestClient, store: Store
) -> None:
    text = example("boathouse").replace("[limits]", "") + '\n[limits]\nnose_sag = "0.0001 in"\n'
    slug = store.new("Sags", text).slug
    page = client.get(f"/job/{slug}/hang").text
    assert "Not for cutting." in page.partition('id="drawing"')[0]
    base = version_on(page)
    data = {"base": base, "stage": "shape", "f.doorway.meeting_gap": "3/8 in"}
    soon = client.post(f"/job/{slug}/edit", data=data, headers={"x-leafwright": "live"}).json()
    assert soon["more"] and "Not for cutting." in soon["html"].partition('id="drawing"')[0]
    assert not any(line.startswith("No longer stopped") for line in soon["changes"])
    data = {"base": soon["version"], "stage": "prove", "f.limits.nose_sag": "1/2 in"}
    proved = client.post(f"/job/{slug}/edit", data=data, headers={"x-leafwright": "live"}).json()
    assert proved["more"] and "the site follows" in proved["changes"]
    assert "Not for cutting." not in client.get(f"/job/{slug}/hang").text.partition("drawing")[0]


def test_a_drawing_need_not_wait_for_the_proof(client: TestClient, store: Store, slug: str) -> None:
    base = version_on(client.get(f"/job/{slug}/shape").text)
    data = {"base": base, "stage": "shape", "f.doorway.meeting_gap": "3/8 in"}
    soon = client.post(f"/job/{slug}/edit", data=data, headers={"x-leafwright": "live"}).json()
    assert soon["more"] and soon["version"] == store.read(slug).version
    assert "Left leaf, width: 4'-10\u00a015/16\" → 4'-10\u00a07/8\"" in soon["changes"]
    assert "being worked out again" in soon["html"]
    whole = client.get(f"/job/{slug}/shape").text
    assert "being worked out again" not in whole and "pieces cut" in whole


def test_a_full_disk_is_said_and_nothing_is_lost(
    client: TestClient, store: Store, slug: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    import errno
    import os

    before = store.read(slug)

    def full(handle: int, data: object) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, "write", full)
        data = {"base": before.version, "stage": "shape", "f.doorway.meeting_gap": "3/8 in"}
        answer = client.post(f"/job/{slug}/edit", data=data)
    assert answer.status_code == 507 and "disk is full" in answer.text
    assert store.read(slug) == before
