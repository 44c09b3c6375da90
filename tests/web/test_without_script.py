"""The whole job without script: each form answers where it was, and says what was wrong there."""

from __future__ import annotations

import html
import re
import tomllib
from pathlib import Path
from urllib.parse import parse_qsl, urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect
from starlette.testclient import TestClient

from leafwright.job.store import Saved, Store
from tests.web.running import Running, example
from tests.web.walked import pages_of

FORM = re.compile(r"<form\b([^>]*)>(.*?)</form>", re.S)
FIELD = re.compile(r"<(input)\b([^>]*)>()|<(select|textarea)\b([^>]*)>(.*?)</\4>", re.S)
NONSENSE = "about a thumb"


def attribute(tag: str, name: str) -> str | None:
    found = re.search(rf'\b{name}="([^"]*)"', tag)
    return None if found is None else html.unescape(found[1])


def fields_of(text: str) -> list[tuple[str, str, str]]:
    """Return the fields of a form or a page: what each is, its tag, and what stands within it."""
    return [(a or d, b or e, c or f) for a, b, c, d, e, f in FIELD.findall(text)]


def filled(form: str) -> list[tuple[str, str, str]]:
    """Return what a browser would send of a form: name, value, and whether it is a length."""
    sent = []
    for kind, tag, inside in fields_of(form):
        name = attribute(tag, "name")
        if name is None:
            continue
        value = attribute(tag, "value") or ""
        if kind == "select":
            options = re.findall(r"<option\b([^>]*)>", inside)
            chosen = [one for one in options if " selected" in one] or options[:1]
            value = attribute(chosen[0], "value") or "" if chosen else ""
        elif kind == "textarea":
            value = html.unescape(inside.strip("\n"))
        sent.append((name, value, "length" if "data-keys" in tag else ""))
    return sent


@pytest.fixture
def page(browser: Browser) -> Page:
    context = browser.new_context(java_script_enabled=False, viewport={"width": 390, "height": 844})
    context.set_default_timeout(15_000)
    return context.new_page()


def test_every_form_of_every_page_keeps_nonsense_and_says_what_is_wrong_beside_it(
    client: TestClient, store: Store
) -> None:
    slug = store.new("Boathouse", example("boathouse")).slug
    before = store.read(slug)
    tried = set()
    for address in pages_of(client, slug):
        if not address.startswith("/job/"):
            continue
        for tag, inside in FORM.findall(client.get(address).text):
            action = attribute(tag, "action") or ""
            assert "<button" in inside, f"{address}: a form that only script can send"
            sent = filled(inside)
            name = next((name for name, _, kind in reversed(sent) if kind), None)
            if attribute(tag, "method") != "post" or name is None:
                continue
            key = (action, name, attribute(tag, "id"), urlsplit(address).path)
            if key in tried:
                continue
            tried.add(key)
            data = {n: NONSENSE if n == name else value for n, value, _ in sent}
            answer = client.post(action, data=data)
            assert answer.status_code == 422, f"{address}: {key}"
            wrong = [
                tag
                for _, tag, _ in fields_of(answer.text)
                if attribute(tag, "name") == name and 'aria-invalid="true"' in tag
            ]
            assert wrong, f"{address}: {name} is not marked"
            assert attribute(wrong[0], "value") == NONSENSE, f"{address}: {name}"
            assert " autofocus" in wrong[0], f"{address}: {name} is not come back to"
            told = (attribute(wrong[0], "aria-describedby") or "").split()
            assert any(re.search(rf'id="{re.escape(i)}">[^<]', answer.text) for i in told)
            assert "<title>Not saved: " in answer.text
    assert len(tried) > 40
    assert store.read(slug) == before


@pytest.mark.parametrize(
    ("kind", "field", "name"),
    [("width-at", "at", "new-at"), ("floor-plan", "toward", "new-toward")],
)
def test_a_reading_that_is_added_says_which_of_its_fields_is_wrong(
    client: TestClient, store: Store, kind: str, field: str, name: str
) -> None:
    slug = store.new("Boathouse", example("boathouse")).slug
    sent = {"kind": kind, "at": "3 ft", "toward": "1 ft", "is": "1 in"} | {field: NONSENSE}
    data = {"base": store.read(slug).version, "stage": "measure", **sent}
    answer = client.post(f"/job/{slug}/add-reading", data=data)
    assert answer.status_code == 422
    assert re.search(rf'id="{name}-error">[^<]*{NONSENSE}', answer.text)
    assert re.search(rf'<input id="{name}"[^>]*value="{NONSENSE}"[^>]*aria-invalid', answer.text)
    assert 'id="new-error"' not in answer.text


def test_a_job_is_made_measured_changed_and_taken_away(
    page: Page, running: Running, tmp_path: Path
) -> None:
    page.goto(running.url)
    page.get_by_label("What is it called?").fill("Quiet doors")
    page.get_by_role("button", name="Begin", exact=True).click()
    slug = urlsplit(page.url).path.split("/")[2]
    expect(page.get_by_role("button", name=re.compile("^Keys"))).to_have_count(0)
    floor = page.get_by_label("width at the floor", exact=True)
    floor.fill("about a thumb")
    page.get_by_role("button", name="Keep it: width at the floor", exact=True).click()
    expect(floor).to_have_value("about a thumb")
    expect(floor).to_be_focused()
    expect(page.locator(".wrong .error")).to_contain_text("Forms that would do")
    floor.fill("10'-6 1/2")
    page.get_by_role("button", name="Keep it: width at the floor", exact=True).click()
    expect(page).to_have_url(re.compile("/measure#field-f-reading-0-is$"))
    expect(page.locator("#notice")).to_contain_text("The last edit:")
    page.get_by_label("What was read").select_option("width-at")
    page.get_by_label("How high up, how far out, or how far right", exact=True).fill("3 ft")
    page.locator("#new-is").fill("10'-6 7/16")
    page.get_by_role("button", name="Add it").click()
    expect(page).to_have_url(re.compile(r"/measure#reading-\d+$"))
    count = len(tomllib.loads(running.store.read(slug).text)["reading"])
    page.get_by_role("button", name="Undo").click()
    expect(page).to_have_url(re.compile("/measure#undo$"))
    assert len(tomllib.loads(running.store.read(slug).text)["reading"]) == count - 1
    page.get_by_role("button", name="Redo").click()
    page.get_by_role("link", name="History").click()
    page.get_by_label("Name of version 1", exact=True).fill("as begun")
    page.locator("form", has=page.locator("#name-1")).get_by_role("button").click()
    expect(page.get_by_label("Name of version 1", exact=True)).to_have_value("as begun")
    page.get_by_role("button", name="Go back to version 1", exact=True).click()
    assert len(tomllib.loads(running.store.read(slug).text)["reading"]) == count - 1
    page.get_by_role("link", name="Take away").click()
    page.get_by_role("button", name="Make the packet (PDF)").click()
    made, again = (page.get_by_role("link", name=n) for n in ("Take the packet", "Look again"))
    for _ in range(20):
        expect(made.or_(again)).to_be_visible()
        if made.count():
            break
        again.click()
    with page.expect_download() as got:
        page.get_by_role("link", name="Take the packet").click()
    got.value.save_as(tmp_path / "packet.pdf")
    assert (tmp_path / "packet.pdf").read_bytes().startswith(b"%PDF")


def test_ticks_of_every_kind_come_back_to_where_they_were(
    page: Page, running: Running, boathouse: str
) -> None:
    for where in ("buy?card=1", "buy/holes", "buy/pack", "build/seams", "build/order?step=3"):
        page.goto(f"{running.url}/job/{boathouse}/{where}")
        for fold in page.locator("details:not([open]):has(button.tick) > summary").all()[:1]:
            fold.click()
        tick = page.locator("button.tick").first
        if not tick.count():
            continue
        place = tick.get_attribute("id")
        tick.click()
        expect(page.locator(f"#{place}")).to_have_attribute("aria-pressed", "true")
        assert urlsplit(page.url).fragment == place, where
        asked = dict(parse_qsl(urlsplit(where).query))
        assert asked.items() <= dict(parse_qsl(urlsplit(page.url).query)).items()
    kinds = {entry.about.split("/")[0] for entry in running.store.log(boathouse)}
    assert {"cut", "hole", "seam"} <= kinds and len(kinds) >= 4


def test_two_edits_of_one_place_are_both_shown(
    page: Page, running: Running, boathouse: str
) -> None:
    page.goto(f"{running.url}/job/{boathouse}/shape")
    base = running.store.read(boathouse)
    other = running.store.set_values(
        boathouse, [(("doorway", "meeting_gap"), "3/8 in")], base=base.version
    )
    assert isinstance(other, Saved)
    page.get_by_label("Meeting gap", exact=True).fill("5/16 in")
    page.get_by_role("button", name="Save: The doorway").click()
    expect(page.get_by_role("heading", name="Two edits of the same place")).to_be_visible()
    expect(page.locator("main")).to_contain_text("3/8 in")
    page.get_by_role("button", name="Put mine in").click()
    expect(page.get_by_label("Meeting gap", exact=True)).to_have_value("5/16 in")


def test_why_a_reading_is_set_aside_is_asked_beside_it(
    page: Page, running: Running, boathouse: str
) -> None:
    page.goto(f"{running.url}/job/{boathouse}/measure")
    page.locator("#more-2 > summary").click()
    aside = page.get_by_role("button", name=re.compile("^Set it aside: ")).nth(0)
    aside.click()
    wrong = page.locator("#reading-2 .wrong, .reading .wrong").first
    expect(wrong.locator(".error")).to_contain_text("Say why it is set aside")
    wrong.locator("input").fill("the tape sagged")
    page.locator(".reading:has(.wrong)").get_by_role(
        "button", name=re.compile("^Set it aside: ")
    ).click()
    expect(page).to_have_url(re.compile(r"/measure#reading-\d+$"))
    expect(page.locator(".readings")).to_contain_text("set aside: the tape sagged")


def test_two_jobs_of_one_name_are_told_apart_on_the_shelf(client: TestClient, store: Store) -> None:
    for slug in ("one", "other"):
        store.new(slug, example("boathouse"))
    shelf = client.get("/").text
    assert "Boathouse doors, in one<" in shelf and "Boathouse doors, in other<" in shelf
    store.remove("other")
    assert "Boathouse doors<" in client.get("/").text


def test_what_a_new_job_was_to_be_stays_chosen_where_its_name_is_missing(
    client: TestClient,
) -> None:
    sent = {"name": " ", "system": "metric", "leaves": "single"}
    answer = client.post("/new", data=sent)
    assert answer.status_code == 422
    begin = answer.text.partition('id="begin"')[2]
    assert '<option value="metric" selected>' in begin
    assert '<option value="single" selected>' in begin
    assert 'aria-describedby="new-name-error"' in begin
    assert re.search(r'id="new-name-error">Give the job a name', begin)
