"""An app without a terminal paints nothing that no test looks at."""

from __future__ import annotations

from typing import Any

import pytest
from textual._compositor import Compositor
from textual._context import visible_screen_stack


@pytest.fixture(autouse=True)
def unseen(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody sees a frame of an app without a terminal: a quarter of the time of these tests.

    What a test looks at (`screen_text`, a picture) is painted then and as a whole. Tests marked
    `painted`, whose random keys, sizes and texts are to find what cannot be painted, and those of
    kept pictures paint each frame as in a terminal. Programs in a real terminal are not touched.
    """
    marked = request.node.get_closest_marker("painted") is not None
    if marked or "golden" in request.fixturenames:
        return
    paint = Compositor.render_update

    def only_pictures(compositor: Compositor, *, simplify: bool = False, **how: Any) -> object:
        if simplify:
            return paint(compositor, simplify=simplify, **how)
        visible_screen_stack.set(how.get("screen_stack") or [])  # what stands behind a dialog
        compositor._dirty_regions.clear()
        return None

    monkeypatch.setattr(Compositor, "render_update", only_pictures)
