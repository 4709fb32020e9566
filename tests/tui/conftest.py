"""An app without a terminal paints nothing that no test looks at."""

from __future__ import annotations

from typing import Any

import pytest
from textual._compositor import Compositor


@pytest.fixture(autouse=True)
def unseen(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody sees a frame of an app without a terminal: a quarter of the time of these tests.

    What a test looks at (`screen_text`, a picture) is painted then and as a whole. Tests marked
    `painted`, whose random keys and sizes are to find what cannot be painted, paint each
    frame as in a terminal. Programs in a real terminal are not touched.
    """
    if request.node.get_closest_marker("painted") is not None:
        return
    paint = Compositor.render_update

    def only_pictures(compositor: Compositor, *, simplify: bool = False, **how: Any) -> object:
        if simplify:
            return paint(compositor, simplify=simplify, **how)
        compositor._dirty_regions.clear()
        return None

    monkeypatch.setattr(Compositor, "render_update", only_pictures)
