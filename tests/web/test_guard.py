"""What stands before every request: who may ask, from where, how much, how deep and how often."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from starlette.types import Message, Receive, Scope, Send

from leafwright.job.store import Store
from leafwright.web import create_app
from leafwright.web.door import Allowance, Door, new_code
from leafwright.web.guard import MOST_BYTES, MOST_DEPTH, Guard, depth

LAN = "192.168.7.20"


def of_phone(store: Store, codes: list[str], secret: bytes = b"k" * 32) -> TestClient:
    """Return a client on another machine, on a server that lets others in."""
    app = create_app(store, lan_secret=secret, hosts=[LAN], announce=codes.append)
    codes.append(app.state.site.door.code)
    return TestClient(
        app,
        base_url=f"http://{LAN}:8420",
        client=("192.168.7.31", 50000),
        follow_redirects=False,
    )


def test_every_answer_forbids_framing_foreign_content_and_inline_script(client: TestClient) -> None:
    for path in ("/", "/nothing", "/api/jobs", "/job/none"):
        headers = client.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy and "frame-ancestors 'none'" in policy
        assert "unsafe" not in policy and "*" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["cache-control"] == "no-store"


def test_another_host_name_is_turned_away(client: TestClient) -> None:
    answer = client.get("/", headers={"host": "evil.example"})
    assert answer.status_code == 421
    assert "use the address that was printed" in answer.text


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:9999"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_another_site_changes_nothing(
    client: TestClient, store: Store, headers: dict[str, str]
) -> None:
    answer = client.post("/new", data={"name": "Gate"}, headers=headers)
    assert answer.status_code == 403
    assert store.jobs() == ()


def test_the_page_itself_may_change_things(client: TestClient, store: Store) -> None:
    own = {"origin": "http://127.0.0.1:8420", "sec-fetch-site": "same-origin"}
    assert client.post("/new", data={"name": "Gate"}, headers=own).status_code == 303
    assert [job.slug for job in store.jobs()] == ["gate"]


def test_too_much_is_refused_before_it_is_read(client: TestClient) -> None:
    said = {"content-length": str(10**9)}
    assert client.post("/import", content=b"", headers=said).status_code == 413
    long = b"x" * (MOST_BYTES + 1)
    assert client.post("/job/none/edit", content=long).status_code == 413


def test_deep_nesting_is_refused(client: TestClient) -> None:
    deep = b"[" * (MOST_DEPTH + 1) + b"]" * (MOST_DEPTH + 1)
    headers = {"content-type": "application/json"}
    assert client.post("/api/jobs", content=deep, headers=headers).status_code == 400


def test_depth_leaves_out_what_stands_in_strings() -> None:
    assert depth(b'{"a": ["[[[[", "\\"]]"], "b": {}}') == 2


def run_guard(
    receive_body: Callable[[], Message],
    *,
    seconds: float = 5.0,
    headers: Sequence[tuple[bytes, bytes]] = (),
    client: str = "127.0.0.1",
    path: str = "/new",
    times: int = 1,
) -> list[int]:
    """Return the statuses with which a guard answers requests whose bodies come in parts."""
    statuses: list[int] = []

    async def app(scope: Scope, receive: Receive, send: Send) -> None:
        await send({"type": "http.response.start", "status": 200, "headers": []})
        await send({"type": "http.response.body", "body": b""})

    async def receive() -> Message:
        if times == 1:
            await asyncio.sleep(0.02)
        return receive_body()

    async def send(message: Message) -> None:
        if message["type"] == "http.response.start":
            statuses.append(message["status"])

    scope = {
        "type": "http",
        "method": "POST",
        "path": path,
        "scheme": "http",
        "client": (client, 1),
        "headers": [(b"host", b"127.0.0.1"), *headers],
    }
    door = Door(b"k" * 32)
    guard = Guard(app, door=door, most_seconds=seconds, clock=lambda: 0.0)

    async def all_times() -> None:
        for _ in range(times):
            await guard(scope, receive, send)

    # On a thread of its own, since a browser of other tests keeps a loop running on this one.
    with ThreadPoolExecutor(1) as alone:
        alone.submit(lambda: asyncio.run(all_times())).result()
    return statuses


def test_a_body_that_never_ends_runs_out_of_time() -> None:
    drip: Message = {"type": "http.request", "body": b"x", "more_body": True}
    assert run_guard(lambda: drip, seconds=0.2) == [408]


def test_a_body_that_says_it_is_short_and_is_not_is_cut_off() -> None:
    flood: Message = {"type": "http.request", "body": b"x" * 200_000, "more_body": True}
    length = [(b"content-length", b"5")]
    assert run_guard(lambda: flood, headers=length) == [413]


def test_without_lan_nobody_else_is_served(store: Store) -> None:
    far = TestClient(create_app(store), base_url="http://127.0.0.1", client=("192.168.7.31", 50000))
    answer = far.get("/")
    assert answer.status_code == 403
    assert "--lan" in answer.text


def test_a_phone_comes_in_with_the_code_once(store: Store) -> None:
    codes: list[str] = []
    phone = of_phone(store, codes)
    first = codes[0]
    assert phone.get("/").headers["location"] == "/enter"
    assert phone.get("/api/jobs").status_code == 401
    assert phone.post("/new", data={"name": "Gate"}).status_code == 401
    assert phone.post("/enter", data={"code": "AAAAA-AAAAA"}).status_code == 403
    assert phone.post("/enter", data={"code": first.lower()}).status_code == 303
    assert phone.get("/").status_code == 200
    assert len(codes) == 2 and codes[1] != first
    phone.cookies.clear()
    assert phone.post("/enter", data={"code": first}).status_code == 403


def test_a_session_is_signed_and_outlives_a_restart(store: Store) -> None:
    codes: list[str] = []
    phone = of_phone(store, codes)
    phone.post("/enter", data={"code": codes[0]})
    cookie = phone.cookies["leafwright"]
    again, other = of_phone(store, []), of_phone(store, [], secret=b"o" * 32)
    again.cookies.set("leafwright", cookie)
    other.cookies.set("leafwright", cookie)
    assert again.get("/").status_code == 200
    assert other.get("/").headers["location"] == "/enter"
    again.cookies.clear()
    again.cookies.set("leafwright", cookie[:-2] + "xx")
    assert again.get("/").headers["location"] == "/enter"


def test_codes_cannot_be_tried_without_end(store: Store) -> None:
    phone = of_phone(store, [])
    tried = [phone.post("/enter", data={"code": new_code()}).status_code for _ in range(8)]
    assert tried[:6] == [403] * 6
    assert tried[6:] == [429] * 2


def test_requests_of_one_device_are_limited() -> None:
    nothing: Message = {"type": "http.request", "body": b"", "more_body": False}
    path, client = "/static/x/page.css", "192.168.7.31"
    tried = run_guard(lambda: nothing, client=client, path=path, times=300)
    assert tried == [200] * 240 + [429] * 60


def test_an_allowance_fills_up_again() -> None:
    now = [0.0]
    allowance = Allowance(burst=2, each_second=1, clock=lambda: now[0])
    assert [allowance.takes("a") for _ in range(3)] == [True, True, False]
    assert allowance.takes("b")
    now[0] = 1.0
    assert [allowance.takes("a") for _ in range(2)] == [True, False]


def test_a_door_tells_each_new_code() -> None:
    told: list[str] = []
    door = Door(b"k" * 32, announce=told.append)
    first = door.code
    assert not door.opens("")
    assert door.opens(first)
    assert told == [door.code]
    assert not door.opens(first)


def test_no_path_leaves_the_static_files_or_the_shelf(client: TestClient, tmp_path: Path) -> None:
    (tmp_path / "secret.toml").write_text("secret = 1")
    for path in (
        "/static/x/..%2f..%2fapp.py",
        "/static/x/%2e%2e",
        "/job/..%2f..%2fsecret",
        "/job/%2e%2e/file",
        "/job/..%2fsecret/job.toml",
        "/api/jobs/..%2fsecret",
    ):
        answer = client.get(path)
        assert answer.status_code in (404, 307), path
        assert "secret = 1" not in answer.text
