"""The plan once more for a pump that stops or a gate that is shut on the first day, and stays so."""

from __future__ import annotations

from pondtui.pond.away.kept import Scene
from pondtui.pond.away.outlook import Paths
from pondtui.pond.away.search import Task, search
from pondtui.pond.away.what_if import Change


def replanned(change: Change, task: Task, still: Paths | None) -> Change:
    """The change with the visits and litres that keep the promise then, with nothing mended.

    `still` are the same courses with the pump stopped all along; None where that makes no odds.
    """
    scene = changed(change, task.scene, still)
    found = search(task._replace(scene=scene))
    water = sum(portion.litres for _, portions in found.visits for portion in portions)
    return change._replace(visits=len(found.visits), water_l=water, keeps=found.keeps)


def changed(change: Change, usual: Scene, still: Paths | None) -> Scene:
    """The absence with the water moved on leaving, and from then on the other surface."""
    paths, bowl = usual.paths, usual.paths.bowl
    if still is not None and change.evaporates < 1:
        moves = (
            (*before[: usual.begin], *after[usual.begin :])
            for before, after in zip(paths.moves, still.moves, strict=True)
        )
        paths = paths._replace(moves=tuple(moves))
    levels = (
        max(min(bowl.after(up, change.moved_l), bowl.spill_up), bowl.bottom_up)
        for up in usual.levels
    )
    return usual._replace(paths=paths, levels=tuple(levels))
