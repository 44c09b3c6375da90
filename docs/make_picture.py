"""Draw the README's picture: the doorway of the demo job. Run from the top of the repository."""

from __future__ import annotations

from pathlib import Path

from leafwright import load_job, plan
from leafwright.paper.sheet import flatten
from leafwright.paper.sheets import packet_sheets
from leafwright.paper.svg import svg_text

HERE = Path(__file__).parent


def picture() -> str:
    """Return the sheet of the demo's doorway as SVG."""
    made = plan(load_job(HERE.parent / "examples" / "boathouse.toml").job)
    sheet = next(s for s in packet_sheets(made) if s.title == "The doorway with its leaves")
    return svg_text(flatten(sheet), title=sheet.title, description="The demo job's doorway")


if __name__ == "__main__":
    (HERE / "doorway.svg").write_text(picture(), encoding="utf-8")
