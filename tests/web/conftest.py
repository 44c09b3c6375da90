from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright
from starlette.testclient import TestClient

from leafwright.job.model import Job
from leafwright.job.store import Store
from leafwright.pipeline import Plan, Stage, plan
from leafwright.web import create_app, planned
from tests.web.running import Running, example

CHROMIUM = Path("/usr/bin/chromium")
ARGUMENTS = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# A machine that does much else at once is slow, and that is no failure.
expect.set_options(timeout=15_000)
SCREENS = {"phone": (390, 844), "bench": (1280, 800)}

#: A journey whose screen does not matter is made on one; each stage has one on either.
ON_A_PHONE = pytest.mark.parametrize("watched", ["phone"], indirect=True)
AT_THE_BENCH = pytest.mark.parametrize("watched", ["bench"], indirect=True)


@pytest.fixture(scope="session", autouse=True)
def planned_once() -> Iterator[None]:
    """Keep the plan of a job that is planned from nothing: most tests begin with an example.

    What an edit makes of it is worked out each time, and that a plan comes out the same each time,
    from nothing or from an earlier one, is for the tests of the pipeline to show.
    """
    kept: OrderedDict[tuple[str, str, date | None], Plan] = OrderedDict()

    def first(
        job: Job, *, upto: Stage = "site", previous: Plan | None = None, on: date | None = None
    ) -> Plan:
        key = (repr(job), upto, on)
        if previous is not None and repr(previous.job) != key[0]:
            return plan(job, upto=upto, previous=previous, on=on)
        if key not in kept:
            kept[key] = plan(job, upto=upto, previous=previous, on=on)
            if len(kept) > 24:
                kept.popitem(last=False)
        return kept[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(planned, "plan", first)
        yield


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    if not CHROMIUM.exists():
        pytest.skip("no Chromium at /usr/bin/chromium (apt-get install chromium)")
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield opened
        opened.close()


@pytest.fixture(scope="session")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    served = Running(tmp_path_factory.mktemp("shelf"))
    yield served
    served.stop()


class Watched:
    """A page whose errors and requests are kept, to be looked at when the test is done."""

    def __init__(self, page: Page, url: str) -> None:
        self.page = page
        self.url = url
        self.errors: list[str] = []
        self.foreign: list[str] = []
        page.on("console", lambda said: self._said(said.type, said.text))
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        page.on("request", lambda asked: self._asked(asked.url))

    def _said(self, kind: str, text: str) -> None:
        # The browser itself reports an answer of 4xx, and a server that is not there.
        if kind in ("error", "warning") and "Failed to load resource" not in text:
            self.errors.append(text)

    def _asked(self, url: str) -> None:
        if not url.startswith((self.url, "data:", "blob:")):
            self.foreign.append(url)


@pytest.fixture(params=list(SCREENS))
def watched(
    request: pytest.FixtureRequest, browser: Browser, running: Running
) -> Iterator[Watched]:
    """A page on a phone and on a bench screen: no error, and no request off the machine."""
    width, height = SCREENS[request.param]
    context = browser.new_context(
        viewport={"width": width, "height": height}, has_touch=width < 600
    )
    context.set_default_timeout(15_000)
    seen = Watched(context.new_page(), running.url)
    yield seen
    context.close()
    assert seen.errors == []
    assert seen.foreign == []


@pytest.fixture
def boathouse(running: Running) -> str:
    """A fresh copy of the boathouse job on the running server: its slug."""
    return running.store.new("Boathouse", example("boathouse")).slug


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path / "shelf")


@pytest.fixture
def client(store: Store) -> TestClient:
    """A client on this machine, without a server or a browser."""
    app = create_app(store)
    return TestClient(
        app,
        base_url="http://127.0.0.1:8420",
        client=("127.0.0.1", 50000),
        follow_redirects=False,
        raise_server_exceptions=False,
    )
