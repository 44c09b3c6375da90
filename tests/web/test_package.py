"""What is not Python comes with the package: pages, styles, the demo, the catalogue."""

from __future__ import annotations

import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_every_file_of_the_package_is_put_in_what_is_installed() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    package = ROOT / "src" / "leafwright"
    wanted = settings["tool"]["setuptools"]["package-data"]["leafwright"]
    taken = {file for pattern in wanted for file in package.glob(pattern)}
    there = {
        file
        for file in package.rglob("*")
        if file.is_file() and file.suffix not in (".py", ".pyc") and file.name[0] != "."
    }
    assert {"demo.toml", "page.css", "job.html", "steel_catalogue.toml"} <= {f.name for f in there}
    assert there <= taken
