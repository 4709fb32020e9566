"""Opening the care page in a browser without a screen, and asking it what it sees.

A check is a script that is put behind the page's own; the page's policy is widened by that
script's hash and by nothing else. The script sends one JSON value to the frame around the page.
"""

from __future__ import annotations

import base64
import hashlib
import json
import os
import re
import shutil
import subprocess
from html import unescape
from pathlib import Path
from typing import Any

import pytest

HERE = Path(__file__).parent
# read when collected: the tests themselves see an empty machine
CHROMIUM = next(
    filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None
)
AXE = Path(os.environ.get("AXE_CORE", HERE / "node_modules" / "axe-core" / "axe.min.js"))
PHONE = (390, 844)
needs_browser = pytest.mark.skipif(
    CHROMIUM is None, reason="no chromium here: the care page was not opened in a browser"
)
needs_axe = pytest.mark.skipif(
    not AXE.is_file(),
    reason="no axe-core here (npm install --prefix tests/page): accessibility was not checked",
)
_LEAVE = "function leave(value) { parent.postMessage(JSON.stringify(value), '*'); }\n"
# a window is never as narrow as a telephone, a frame is
_FRAME = """<!DOCTYPE html><title>frame</title>
<script>
addEventListener('message', function (event) {
  var out = document.createElement('pre');
  out.id = 'found';
  out.textContent = event.data;
  document.body.appendChild(out);
});
</script>
<body><iframe src="page.html" width="%d" height="%d" style="border:0"></iframe></body>
"""


def with_check(page: str, *scripts: str) -> str:
    """The page with scripts behind its own, allowed by their hashes."""
    allowed = "".join(
        f" 'sha256-{base64.b64encode(hashlib.sha256(s.encode()).digest()).decode()}'"
        for s in scripts
    )
    widened = re.sub(r"(script-src [^;]*)", rf"\1{allowed}", page, count=1)
    added = "".join(f"<script>{script}</script>" for script in scripts)
    return widened.replace("</body>", f"{added}</body>")


def ask(folder: Path, page: str, check: str, *scripts: str, dark: bool = False) -> Any:
    """What the check leaves, on a telephone's screen."""
    path = folder / "page.html"
    path.write_text(with_check(page, *scripts, _LEAVE + check), encoding="utf-8")
    frame = folder / "frame.html"
    frame.write_text(_FRAME % PHONE, encoding="utf-8")
    done = run(folder, "--dump-dom", frame.as_uri(), dark=dark)
    found = re.search(r'<pre id="found">(.*?)</pre>', done, re.DOTALL)
    assert found, done[-2000:]
    return json.loads(unescape(found[1]))


def run(folder: Path, *words: str, dark: bool = False) -> str:
    """One run of the browser, its profile in the folder; no network beyond the machine."""
    assert CHROMIUM is not None
    alone = ["--no-sandbox"] if os.geteuid() == 0 else []  # root may not have the sandbox
    done = subprocess.run(
        [
            CHROMIUM,
            "--headless",
            *alone,
            "--disable-gpu",
            "--disable-dev-shm-usage",
            "--hide-scrollbars",
            "--no-first-run",
            "--host-resolver-rules=MAP * ~NOTFOUND",
            f"--user-data-dir={folder / 'profile'}",
            "--window-size=800,900",
            f"--blink-settings=preferredColorScheme={0 if dark else 1}",
            "--virtual-time-budget=10000",
            *words,
        ],
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    return done.stdout
