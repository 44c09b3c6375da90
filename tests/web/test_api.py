"""The JSON interface keeps to its own schema and never fails, whatever it is sent."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape
from pathlib import Path
from typing import Any

import schemathesis
from hypothesis import HealthCheck, given, settings
from starlette.testclient import TestClient

from leafwright.documents.records import DOCUMENTS
from leafwright.job.store import Store
from leafwright.web import create_app
from tests.sizes import cases
from tests.web.running import example

Case = schemathesis.Case[Any]


def test_a_job_is_kept_planned_changed_and_ticked(client: TestClient) -> None:
    new = client.post("/api/jobs", json={"name": "Gate", "text": example("boathouse")})
    assert new.status_code == 201
    job = new.json()
    text = job["text"].replace('meeting_gap = "1/4 in"', 'meeting_gap = "3/8 in"')
    put = {"text": text, "base": job["version"]}
    changed = client.put("/api/jobs/gate", json=put)
    assert changed.status_code == 200 and changed.json()["version"] != job["version"]
    lost = {"text": text.replace("3/8 in", "1/2 in"), "base": job["version"]}
    assert "also changed elsewhere" in client.put("/api/jobs/gate", json=lost).json()["detail"]
    plan = client.get("/api/jobs/gate/plan").json()
    assert plan["job"] == "Boathouse doors"
    cut = client.get("/api/jobs/gate/cuts").json()[0]
    about = next(iter(cut["ticks"]))
    tick = {"id": "a-tick-of-mine", "about": about, "done": True, "hash": cut["hash"]}
    assert client.post("/api/jobs/gate/ticks", json=tick).status_code == 204
    assert client.get("/api/jobs/gate/cuts").json()[0]["ticks"][about] == "done"


def test_every_document_is_given_by_its_schema_and_every_tick_is_listed(
    client: TestClient, store: Store
) -> None:
    slug = store.new("Kiln", example("kiln-shed")).slug
    for what in DOCUMENTS:
        document = client.get(f"/api/jobs/{slug}/documents/{what}")
        assert document.status_code == 200, what
        schema = client.get(f"/api/schema/{what}").json()
        assert set(document.json()) == set(schema_of(schema)["properties"]), what
    asked = client.get(f"/api/jobs/{slug}/documents/price")
    assert asked.status_code == 404 and "weld-order" in asked.json()["detail"]
    listed = client.get(f"/api/jobs/{slug}/ticks").json()
    for kind in ("cut", "hole", "seam", "pack"):
        thing = next(t for t in listed if t["kind"] == kind)
        tick = {"id": f"tick-{kind}-1", "about": thing["about"], "done": True}
        sent = client.post(f"/api/jobs/{slug}/ticks", json=tick | {"hash": thing["hash"]})
        assert sent.status_code == 204
    listed = client.get(f"/api/jobs/{slug}/ticks").json()
    assert [t["kind"] for t in listed if t["state"] == "done"] == ["cut", "hole", "seam", "pack"]
    seams = client.get(f"/api/jobs/{slug}/documents/seams").json()
    assert [t["state"] for t in seams["ticks"]].count("done") == 1
    counts = unescape(client.get(f"/job/{slug}").text)
    for kind, words in (("hole", "to drill"), ("pack", "to pack"), ("seam", "left to weld")):
        left = sum(t["kind"] == kind and t["state"] != "done" for t in listed)
        assert re.search(rf"\b{left} \w+( of \d+)? {words}", counts), kind


def schema_of(schema: dict[str, Any]) -> dict[str, Any]:
    """Return the part of a schema that its root refers to."""
    named = str(schema.get("$ref", "")).rpartition("/")[2]
    found: dict[str, Any] = schema["$defs"][named] if named else schema
    return found


def test_what_is_wrong_is_told_with_its_line(client: TestClient) -> None:
    broken = example("boathouse").replace('"pair"', '"pare"')
    answer = client.post("/api/jobs", json={"name": "Gate", "text": broken})
    assert answer.status_code == 422
    assert "line " in answer.json()["detail"] and "'pair'" in answer.json()["detail"]
    assert client.get("/api/jobs/none").status_code == 404


def test_no_request_makes_it_fail(tmp_path: Path) -> None:
    store = Store(tmp_path / "shelf")
    store.new("boathouse", example("boathouse"))
    app = create_app(store)
    schema = schemathesis.openapi.from_dict(app.openapi())
    client = TestClient(
        app,
        base_url="http://127.0.0.1:8420",
        client=("127.0.0.1", 50000),
        raise_server_exceptions=False,
    )
    operations = [
        found.ok()  # type: ignore[union-attr]
        for found in schema.get_all_operations()
    ]
    each = cases(6, 2000 // len(operations))
    seen: list[int] = []
    for operation in operations:
        cases_of(operation, each, lambda case: seen.append(answered(client, case)))
    assert len(operations) == 10
    assert len(seen) >= len(operations)


def cases_of(
    operation: schemathesis.APIOperation[Any, Any, Any, Any], each: int, ask: Callable[[Case], None]
) -> None:
    """Ask one operation ``each`` times, as its schema allows and as it does not."""

    @settings(max_examples=each, suppress_health_check=list(HealthCheck))
    @given(case=operation.as_strategy())
    def asked(case: Case) -> None:
        ask(case)

    asked()


def answered(client: TestClient, case: Case) -> int:
    """Send one case to a job that is there, or to none, and return the status."""
    if "slug" in case.path_parameters and len(repr(case.body)) % 2:
        case.path_parameters["slug"] = "boathouse"
    parts = case.as_transport_kwargs(base_url="http://127.0.0.1:8420")
    parts.pop("timeout", None)
    parts.pop("cookies", None)
    answer = client.request(**parts)
    assert answer.status_code < 500, f"{case.method} {case.path}: {answer.text[:300]}"
    return answer.status_code
