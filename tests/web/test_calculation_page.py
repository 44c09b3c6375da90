"""The calculation on the page: link by link, with drawings, and the formulas of one check."""

from __future__ import annotations

import re
from html import unescape

import pytest
from starlette.testclient import TestClient

from leafwright.documents.calculation import calculation
from leafwright.job.file import read_job
from leafwright.job.store import Store
from leafwright.pipeline import plan
from tests.web.running import example

JOBS = ("boathouse", "kiln-shed", "yard-gate")


def text_of(page: str) -> str:
    return unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page)))


@pytest.mark.parametrize("name", JOBS)
def test_every_link_opens_with_all_its_checks(name: str, client: TestClient, store: Store) -> None:
    slug = store.new(name, example(name)).slug
    groups = calculation(plan(read_job(example(name)))).groups
    drawn = 0
    for number, group in enumerate(groups, 1):
        answer = client.get(f"/job/{slug}/prove/calculation?group={number}")
        assert answer.status_code == 200
        assert f'<h3 id="opened-title">{group.title}</h3>' in answer.text
        opened = answer.text.split('id="opened-title"')[1]
        assert opened.count('<li class="check ') == len(group.checks)
        drawn += "cut on its axis" in answer.text or "The hinge line," in answer.text
    assert drawn >= 2


def test_a_formula_stands_with_its_numbers_and_leads_to_its_figure(
    client: TestClient, store: Store
) -> None:
    slug = store.new("Boathouse", example("boathouse")).slug
    page = client.get(f"/job/{slug}/prove?check=left/hanging stile/axial").text
    worked = page.split('id="worked"')[1].split("</ol>")[0]
    # KL/r = 176 of a 2-1/2 in tube over 13'-9: F_e by hand, π² · 29,000 / 176.1².
    assert "F_e = π²·E/L_c_over_r² = π²·29000 ksi/176.1² = 9.225 ksi" in text_of(worked)
    link = re.search(r'href="(/figures/[^"]+)"', worked)
    assert link is not None
    assert client.get(link[1]).status_code == 200


def test_a_check_that_is_not_there_shows_none(client: TestClient, store: Store) -> None:
    slug = store.new("Boathouse", example("boathouse")).slug
    page = client.get(f'/job/{slug}/prove?check="><script>')
    assert page.status_code == 200
    assert 'id="worked"' not in page.text
    assert "<script>" not in page.text.split("<main")[1]
