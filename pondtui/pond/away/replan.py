"""The plan once more for a pump that stops or a gate that is shut on leaving, and stays so."""

from __future__ import annotations

from pondtui.pond.away.kept import Scene
from pondtui.pond.away.outlook import Paths
from pondtui.pond.away.search import Found, Task, at_places, search
from pondtui.pond.away.what_if import Change


def replanned(change: Change, task: Task, usual: Found, still: Paths | None) -> Change:
    """The change with the visits and litres that keep the promise then, with nothing mended.

    `still` are the same courses with the pump stopped all along; None where that makes no odds.
    """
    task = task._replace(scene=changed(change, task.scene, still))
    # the days of the usual plan are tried as well: what makes it easier must not cost more
    found = min(search(task), at_places(task, usual.places), key=_cost)
    return change._replace(visits=len(found.visits), water_l=_litres(found), keeps=found.keeps)


def _cost(found: Found) -> tuple[bool, int, float]:
    return (not found.keeps, len(found.visits), _litres(found))


def _litres(found: Found) -> float:
    return sum(portion.litres for _, portions in found.visits for portion in portions)


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
