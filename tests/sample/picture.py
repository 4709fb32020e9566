"""The README's picture: Today on the sample pond, exported by the app itself.

python -m tests.sample.picture
"""

from __future__ import annotations

import asyncio
import re
import shutil
import tempfile
from datetime import datetime
from pathlib import Path

from pondtui.books.pondfile import load
from pondtui.tui.run import make_app
from pondtui.tui.session import Session

SAMPLE = Path(__file__).parents[2] / "sample"


async def _export(folder: Path) -> str:
    now = int(datetime.fromisoformat((SAMPLE / "metric/now.txt").read_text().strip()).timestamp())
    session = Session(folder, load(folder), lambda: now, inline=True)
    app = make_app(session, {"TERM": "xterm-256color"})
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause(0.5)
        picture = app.export_screenshot(title="pondtui", simplify=True)
    # no font from elsewhere: a picture loads nothing
    return re.sub(r"@font-face \{.*?\}\s*", "", picture, flags=re.DOTALL)


def main() -> None:
    """Write sample/today.svg."""
    with tempfile.TemporaryDirectory() as room:
        folder = Path(room) / "pond"
        shutil.copytree(SAMPLE / "metric", folder)
        (SAMPLE / "today.svg").write_text(asyncio.run(_export(folder)), encoding="utf-8")


if __name__ == "__main__":
    main()
