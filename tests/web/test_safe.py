"""What is hostile or broken: markup, silent lines, faults of our own, files that are gone."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import re
import socket
import time
from datetime import date
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from threading import Barrier, Event, Thread
from types import SimpleNamespace
from typing import Any, cast
from urllib.parse import quote
from xml.etree import ElementTree

import pytest
import tomlkit
from starlette.testclient import TestClient

from leafwright.job.store import Store
from leafwright.pipeline import plan
from leafwright.web import files, lists, planned
from leafwright.web.door import Door
from leafwright.web.guard import MOST_DEPTH, MOST_JSON, MOST_VALUES, depth
from leafwright.web.line import MOST_OF_ONE, MOST_OF_OTHERS, Line
from leafwright.web.serve import server_of
from tests.web.running import Running, example

EVIL = "<script>x()</script>\"'><img src=x onerror=y()>{{7*7}} 船🚪"


def hostile() -> str:
    """Return the boathouse with markup and foreign script in each of its texts."""
    job: Any = tomlkit.parse(example("boathouse"))
    head = job["job"]
    head["name"], head["seen_from"], head["note"] = EVIL, EVIL[:40], EVIL
    head["revision"], head["currency"] = EVIL[:12], EVIL[:4]
    for reading in job["reading"]:
        reading["who"], reading["note"] = EVIL, EVIL
        if "set_aside" in reading:
            reading["set_aside"] = EVIL
    for leaf in job["leaf"]:
        leaf["name"] = EVIL[:40]
    for infill in job["each_leaf"].get("infill", []):
        infill["note"] = EVIL
    return tomlkit.dumps(job)


class Faults(HTMLParser):
    """What of a page was made of the maker's words and not of ours."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        ours = tag != "script" or (told.get("src") or "").startswith("/static/")
        picture = tag != "img" or (told.get("src") or "").endswith("/picture.svg")
        targets = [told.get(name) or "" for name in ("href", "src", "action", "formaction")]
        foreign = any(t.lower().startswith(("javascript:", "data:", "//")) for t in targets)
        if not ours or not picture or foreign or any(name.startswith("on") for name in told):
            self.found.append(f"{tag} {told}")


PAGES = (
    "",
    "/measure",
    "/shape?part=left/brace-1",
    "/prove",
    "/prove/calculation",
    "/buy?card=2",
    "/buy/holes",
    "/buy/pack",
    "/build",
    "/build/seams",
    "/build/order",
    "/hang",
    "/hand-over",
    "/history",
    "/file",
    "/take-away",
)
QUERY = "part=%3Cscript%3E&leaf=%22%3E&case=%27&who=%3Cimg%20src=x%3E&check=%3Cb%3E&angle=%3C"


def test_no_text_of_a_job_becomes_markup_anywhere(client: TestClient, store: Store) -> None:
    slug = store.new(EVIL, hostile()).slug
    store.name_version(slug, 1, EVIL)
    for page in ("/", *(f"/job/{slug}{page}" for page in PAGES)):
        for path in (page, page + ("&" if "?" in page else "?") + QUERY):
            answer = client.get(path)
            assert answer.status_code == 200, path
            assert "default-src 'none'" in answer.headers["content-security-policy"]
            seen = Faults()
            seen.feed(answer.text)
            assert seen.found == [], path
            for picture in re.findall(r"<svg.*?</svg>", answer.text, re.DOTALL):
                ElementTree.fromstring(picture)
    ElementTree.fromstring(client.get(f"/job/{slug}/picture.svg").content)
    for file in ("plan.json", "job.toml", "job.zip", "dxf/left"):
        answer = client.get(f"/job/{slug}/{file}")
        assert answer.status_code == 200, file
        assert re.fullmatch(
            r'attachment; filename="[\w.-]+"', answer.headers["content-disposition"]
        )
        assert "default-src 'none'" in answer.headers["content-security-policy"]


def test_a_packet_is_made_whatever_script_its_names_are_in(store: Store) -> None:
    text = hostile()
    saved = store.new("Any", text)
    made = planned.Plans(lambda: date(2026, 3, 1)).of(saved).plan
    assert made is not None
    assert files.packet_pdf(made).startswith(b"%PDF")


STRANGE = ("²", "٣", "9" * 5000, "-1", "1e400", "nan", "\x00", "%00", "%ff%fe", "%ed%a0%80", "🚪")


@pytest.mark.parametrize("strange", STRANGE, ids=range(len(STRANGE)))
def test_no_strange_number_or_word_in_an_address_or_a_form_is_a_fault(
    client: TestClient, store: Store, strange: str
) -> None:
    slug = store.new("Gate", example("boathouse")).slug
    asked = quote(strange, safe="%")
    every = ("part", "leaf", "case", "card", "check", "angle", "way", "pose", "step", "stick")
    query = "&".join(f"{name}={asked}" for name in every)
    pages = ("shape/swing", "prove", "buy", "build/order", "hang", "hand-over")
    for path in (
        *(f"/job/{slug}/{page}?{query}" for page in pages),
        *(f"/job/{slug}/dxf/{asked}", f"/job/{asked}", f"/api/jobs/{slug}/documents/{asked}"),
    ):
        assert client.get(path).status_code in (200, 404), path
    form = {"number": strange, "base": store.read(slug).version, "place": f"reading.{strange}"}
    for work in ("restore", "name-version", "take-out", "set-aside", "own", "undo", "tick"):
        answer = client.post(f"/job/{slug}/{work}", data=form)
        assert answer.status_code < 500, work
    told = {"content-length": strange} if strange.isascii() and strange.isprintable() else {}
    assert client.post("/new", content=b"", headers=told).status_code in (413, 422)


# ---------------------------------------------------------------------- faults of our own


def test_a_job_at_which_the_plan_fails_can_still_be_put_right(
    client: TestClient, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    slug = store.new("Gate", example("boathouse")).slug
    sound = store.read(slug)

    def failing(job: Any, **more: Any) -> Any:
        if "3/8 in" in str(job.doorway.meeting_gap):
            raise ZeroDivisionError("not to be seen")
        return plan(job, **more)

    monkeypatch.setattr(planned, "plan", failing)
    form = {"base": sound.version, "stage": "shape", "f.doorway.meeting_gap": "3/8 in"}
    assert client.post(f"/job/{slug}/edit", data=form).status_code == 303
    for page in ("", "/shape", "/buy", "/file", "/history"):
        answer = client.get(f"/job/{slug}{page}")
        assert answer.status_code == 200, page
        assert "not to be seen" not in answer.text and "Traceback" not in answer.text
    told = unescape(client.get(f"/job/{slug}").text)
    assert "This job cannot be worked out" in told
    assert "by a fault of its own (ZeroDivisionError in test_safe.py" in told
    assert client.get(f"/api/jobs/{slug}/plan").status_code == 422
    back = {"number": "1", "base": store.read(slug).version}
    assert client.post(f"/job/{slug}/restore", data=back).status_code == 303
    assert store.read(slug).text == sound.text
    assert "This job cannot" not in client.get(f"/job/{slug}").text


def test_a_fault_is_logged_in_one_line(capfd: pytest.CaptureFixture[str]) -> None:
    server_of(lambda: None)
    try:
        raise KeyError("secret")
    except KeyError:
        logging.getLogger("uvicorn.error").error("Exception in ASGI application\n", exc_info=True)
    said = capfd.readouterr().err
    assert "A fault of Leafwright: KeyError in test_safe.py, line" in said
    assert said.count("\n") == 1 and "secret" not in said


# ---------------------------------------------------------------------- files that are gone


@pytest.mark.parametrize("lost", ["gone", "no text"])
def test_an_earlier_version_is_had_back_on_the_page(
    client: TestClient, store: Store, tmp_path: Path, lost: str
) -> None:
    slug = store.new("Gate", example("boathouse")).slug
    file = tmp_path / "shelf" / slug / "job.toml"
    if lost == "gone":
        file.unlink()
    else:
        file.write_bytes(example("boathouse").encode("utf-16"))
    told = client.get(f"/job/{slug}")
    assert told.status_code == 404 and f'href="/job/{slug}/history"' in told.text
    page = client.get(f"/job/{slug}/history")
    assert page.status_code == 200
    base = re.search(r'name="base" value="([0-9a-f]*)"', page.text)
    assert base is not None
    form = {"number": "1", "base": base[1]}
    assert client.post(f"/job/{slug}/restore", data=form).status_code == 303
    assert store.read(slug).text == example("boathouse")


def test_no_answer_tells_where_on_the_disk_the_shelf_is(
    client: TestClient, store: Store, tmp_path: Path
) -> None:
    slug = store.new("Gate", example("boathouse")).slug
    (tmp_path / "shelf" / slug / "log.jsonl").mkdir()
    for path in ("/job/none", "/api/jobs/none", f"/job/{slug}", f"/job/{slug}/job.zip"):
        answer = client.get(path)
        assert answer.status_code in (404, 500)
        assert str(tmp_path) not in answer.text, path
    assert "(shelf/gate/log.jsonl)" in client.get(f"/job/{slug}").text


# ---------------------------------------------------------------------- a job that takes for ever


def test_a_job_that_takes_for_ever_keeps_nobody_from_the_others(
    client: TestClient, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.new("Gate", example("boathouse"))
    store.new("Barn", example("boathouse").replace("Boathouse doors", "For ever"))
    done = Event()

    def endless(job: Any, **more: Any) -> Any:
        if job.job.name == "For ever":
            assert done.wait(60)
        return plan(job, **more)

    monkeypatch.setattr(planned, "plan", endless)
    monkeypatch.setattr(planned.Plans, "longest_wait", 0.2)
    monkeypatch.setattr(lists, "LONGEST_WAIT", 1.0)
    try:
        listed = unescape(client.get("/").text)
        assert "still being worked out; open it to see" in listed
        begun = time.monotonic()
        busy = [client.get("/job/barn") for _ in range(planned.MOST_AT_ONE + 4)]
        assert time.monotonic() - begun < 20
        assert {answer.status_code for answer in busy} == {503}
        assert busy[0].headers["refresh"] == "5" and "asked again by itself" in busy[0].text
        assert client.get("/job/gate").status_code == 200
        assert client.get("/api/jobs/barn/plan").status_code == 503
        assert client.get("/job/barn/job.toml").status_code == 200
    finally:
        done.set()
    until = time.monotonic() + 20
    while (answer := client.get("/job/barn")).status_code == 503:
        assert time.monotonic() < until
    assert answer.status_code == 200


# ---------------------------------------------------------------------- lines that say nothing


def test_a_line_that_asks_nothing_is_cut_and_one_that_does_is_not(
    running: Running, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Line, "head_seconds", 0.5)
    lines = [socket.create_connection(("127.0.0.1", running.port)) for _ in range(3)]
    lines[1].sendall(b"GET / HTTP/1.1\r\nHost: 127")
    begun = time.monotonic()
    for line in lines[:2]:
        line.settimeout(10)
        with contextlib.suppress(ConnectionResetError):
            assert line.recv(1) == b""
    assert time.monotonic() - begun < 8
    # A letter now and then buys no more time.
    lines[2].close()
    slow = socket.create_connection(("127.0.0.1", running.port))
    slow.settimeout(0.1)
    letters = iter(b"GET /api/jobs HTTP/1.1\r\nX: " + b"x" * 200)
    with pytest.raises(OSError, match=r"reset|pipe"):
        for letter in letters:
            slow.sendall(bytes([letter]))
            time.sleep(0.05)


def test_one_device_holds_so_many_lines_and_all_others_leave_some_to_this_machine() -> None:
    aborted: list[str] = []

    def opened(client: str, state: Any, loop: asyncio.AbstractEventLoop) -> None:
        server = server_of(lambda: None)
        line = Line(server.config, state, {}, loop)
        there = {"peername": (client, 1), "sockname": ("10.0.0.1", 8420)}
        transport = SimpleNamespace(
            get_extra_info=there.get,
            abort=lambda: aborted.append(client),
            is_closing=lambda: False,
            set_write_buffer_limits=lambda *a: None,
        )
        line.connection_made(cast(asyncio.Transport, transport))

    def counted(clients: list[str]) -> int:
        aborted.clear()
        state = SimpleNamespace(connections=set(), tasks=set(), default_headers=[])
        loop = asyncio.new_event_loop()
        for client in clients:
            opened(client, state, loop)
        loop.close()
        return len(aborted)

    assert counted(["192.168.7.31"] * (MOST_OF_ONE + 5)) == 5
    many = [f"192.168.7.{n}" for n in range(16) for _ in range(20)]
    assert counted(many) == len(many) - MOST_OF_OTHERS
    assert counted(["127.0.0.1"] * 200) == 0


# ---------------------------------------------------------------------- codes, and JSON that floods


def test_one_code_lets_in_one_of_many_that_send_it_at_once() -> None:
    for _ in range(20):
        door = Door(b"k" * 32)
        code, together = door.code, Barrier(8)
        let_in: list[bool] = []

        def send(
            together: Barrier = together,
            door: Door = door,
            code: str = code,
            let_in: list[bool] = let_in,
        ) -> None:
            together.wait()
            let_in.append(door.opens(code))

        threads = [Thread(target=send) for _ in range(8)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert let_in.count(True) == 1


@pytest.mark.parametrize(
    "body",
    [
        b"[]" * (MOST_JSON // 2),
        b'""' * (MOST_JSON // 2),
        b'"a' * (MOST_JSON // 2),
        b'"' + b"\\" * MOST_JSON,
    ],
    ids=["brackets", "texts", "open", "escapes"],
)
def test_how_deep_it_nests_is_told_in_little_work(body: bytes) -> None:
    begun = time.process_time()
    assert depth(body) in (0, MOST_DEPTH + 1)
    assert time.process_time() - begun < 1.0


def test_depth_is_that_of_brackets_outside_texts() -> None:
    assert depth(b'{"a\\"[": [[1], "]", {"b": "{{{"}]}') == 3
    assert depth(b'["[[[[') == 1
    assert depth(b"[]" * MOST_VALUES) == MOST_DEPTH + 1
