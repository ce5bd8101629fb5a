"""How long the app takes in a browser: ``python -m tests.app.benchmark``; nothing of it is a test.

A depth is typed on Plan and the time is taken from Enter until the new drawing is painted; then the same on a
page of one box and one drawing, which shows ready-made drawings of that size through the same component.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from pathlib import Path
from shutil import which

from playwright.sync_api import Page, sync_playwright

from tests.app.serving import free_port, lapline_app, served

_EDITS = 24
_WARM = 4  # edits that are not counted
_LAP = "Lap, liner top to host shoe"

_BARE = f"""
import streamlit as st

from app.drawing_view import drawing
from app.shell import STYLE
from schematic import verbs
from schematic.wellfile import edit


@st.cache_resource
def ready(typed):
    text = edit.set(verbs.demos()["brindlewick-4.yaml"], "liner.lap", typed)
    return verbs.render(verbs.view(verbs.check(verbs.load_text(text)), "fitted"), ".svg")


st.set_page_config(layout="wide")
st.html(STYLE)
for number in range({_EDITS}):
    ready(f"{{381 + number}} ft")
drawing(ready(st.text_input({_LAP!r}, "381 ft")), None, lambda: None)
"""

_WATCH = """label => {
  const under = root => [...root.querySelectorAll('*')]
    .flatMap(e => e.shadowRoot ? [e.shadowRoot, ...under(e.shadowRoot)] : []);
  const paper = under(document).map(root => root.querySelector('.paper')).find(Boolean);
  const input = document.querySelector(`input[aria-label="${label}"]`);
  window.__painted = new Promise(done => {
    let from = 0;
    input.addEventListener('keydown', e => { if (e.key === 'Enter') from = performance.now(); }, { capture: true });
    const seen = new MutationObserver(() => {
      if (!from) return;
      seen.disconnect();
      requestAnimationFrame(() => setTimeout(() => done(performance.now() - from)));
    });
    seen.observe(paper, { childList: true });
  });
}"""


def redrawn_s(page: Page) -> float:
    """The median time from Enter to the painted drawing."""
    box = page.get_by_role("textbox", name=_LAP)
    times: list[float] = []
    for number in range(_EDITS):
        box.fill(f"{381 + (number + 1) % _EDITS} ft")
        page.evaluate(_WATCH, _LAP)
        box.press("Enter")
        times.append(page.evaluate("() => window.__painted") / 1e3)
        time.sleep(0.8)  # the rest of the page comes after its drawing
    return statistics.median(times[_WARM:])


def first_drawing(page: Page, address: str) -> None:
    """Open a page, and wait for its drawing."""
    page.goto(address)
    page.locator("g[data-part]").first.wait_for()
    time.sleep(3.0)


def main() -> None:
    """Print the times and their ratios."""
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        browser = playwright.chromium.launch(executable_path=which("chromium"), args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1440, "height": 900})
        page.set_default_timeout(60_000)

        port, begun = free_port(), time.perf_counter()
        with served(lapline_app(port), port):
            page.goto(f"http://127.0.0.1:{port}")
            page.locator("g[data-part]").first.wait_for()
            first = time.perf_counter() - begun
            first_drawing(page, f"http://127.0.0.1:{port}/plan")
            plan = redrawn_s(page)

        script, port = Path(folder) / "bare.py", free_port()
        script.write_text(_BARE)
        command = [sys.executable, "-m", "streamlit", "run", str(script), "--server.port", str(port)]
        with served(command, port):
            first_drawing(page, f"http://127.0.0.1:{port}")
            bare = redrawn_s(page)
        browser.close()
    print(f"from the command to the first drawing: {first:.1f} s, ratio to goal of 5 s {first / 5.0:.2f}")
    print(
        f"typed depth to painted drawing, Brindlewick 4: {plan * 1e3:.0f} ms, "
        f"ratio to goal of 300 ms {plan / 0.3:.2f}; bare page with a drawing of that size {bare * 1e3:.0f} ms, ratio {plan / bare:.2f} (goal 2)"
    )


if __name__ == "__main__":
    main()
