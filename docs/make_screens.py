"""Take the README's pictures of the page, from the demo job. Run from the top of the repository."""

from __future__ import annotations

import io
import tempfile
import threading
import time
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

from leafwright.job.store import Store
from leafwright.web import create_app
from leafwright.web.serve import listening, server_of

HERE = Path(__file__).parent
CHROMIUM = Path("/usr/bin/chromium")

#: File, page, width and height on screen, light or dark.
SCREENS = (
    ("page-turn.png", "shape/swing?angle=60", 1280, 620, "light"),
    ("page-measure.png", "measure", 390, 844, "light"),
    ("page-build.png", "build", 390, 844, "dark"),
    ("page-hang.png", "hang?pose=4", 390, 844, "light"),
)


def main() -> None:
    """Serve the demo, and take each picture."""
    with tempfile.TemporaryDirectory() as folder:
        store = Store(Path(folder))
        text = (HERE.parent / "examples" / "boathouse.toml").read_bytes()
        store.import_(text, "boathouse")
        listener = listening("127.0.0.1", 0)
        server = server_of(create_app(store), log_level="error")
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.02)
        url = f"http://127.0.0.1:{listener.getsockname()[1]}/job/boathouse"
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(
                executable_path=CHROMIUM, args=["--headless=new", "--no-sandbox"]
            )
            for name, path, width, height, scheme in SCREENS:
                page = browser.new_page(
                    viewport={"width": width, "height": height},
                    color_scheme="dark" if scheme == "dark" else "light",
                )
                page.goto(f"{url}/{path}")
                page.locator("#day:has-text('being worked out')").wait_for(state="detached")
                taken = Image.open(io.BytesIO(page.screenshot()))
                taken.convert("RGB").quantize(64).save(HERE / name, optimize=True)
                page.close()
            browser.close()
        server.should_exit = True
        thread.join(10)


if __name__ == "__main__":
    main()
