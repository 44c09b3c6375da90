"""The writers agree, give the same bytes each time, and load nothing until they are used."""

import hashlib
import os
import subprocess
import sys
import xml.etree.ElementTree as ET

from leafwright.paper.dxf import dxf_text
from leafwright.paper.pdf import pdf_bytes
from leafwright.paper.scale import METRIC_SCALES
from leafwright.paper.scene import Text
from leafwright.paper.sheet import flatten
from leafwright.paper.svg import svg_text
from tests.paper.samples import everything, sample_sheet


def digests() -> list[str]:
    scene = flatten(sample_sheet())
    outputs = (
        svg_text(scene, title="t", description="d").encode(),
        pdf_bytes([scene, scene], title="t"),
        dxf_text(everything(), units="in", scale=METRIC_SCALES[3]).encode(),
    )
    return [hashlib.sha256(output).hexdigest() for output in outputs]


def run(code: str, *, seed: str) -> str:
    environment = {**os.environ, "PYTHONHASHSEED": seed}
    environment["PYTHONPATH"] = os.pathsep.join(["src", ".", environment.get("PYTHONPATH", "")])
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment
    )
    return done.stdout


def test_the_same_sheet_gives_the_same_bytes() -> None:
    here = digests()
    assert digests() == here
    elsewhere = run(
        "from tests.paper.test_output import digests; print('\\n'.join(digests()))", seed="7"
    )
    assert elsewhere.split() == here


def test_importing_paper_loads_no_font_and_no_writer() -> None:
    code = (
        "import sys\n"
        "from leafwright.paper import dxf, inspect, layout, pdf, sheet, svg\n"
        "heavy = ('reportlab', 'ezdxf', 'fontTools', 'numpy', 'fontpkg_fira_sans_condensed')\n"
        "print([name for name in heavy if name in sys.modules])"
    )
    assert run(code, seed="0").strip() == "[]"


def test_svg_has_every_text_of_the_scene() -> None:
    scene = flatten(sample_sheet(not_for_cutting=True))
    texts = [item.text for item in scene.all_items if isinstance(item, Text)]
    root = ET.fromstring(svg_text(scene, title="t", description="d"))
    assert [element.text for element in root.iter("{http://www.w3.org/2000/svg}text")] == texts
