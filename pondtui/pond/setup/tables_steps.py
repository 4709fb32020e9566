"""The table of procedure.toml: the keeper's own steps of a refill, as forms and readers see it."""

from __future__ import annotations

from pondtui.pond.setup.fields import Field, Table
from pondtui.pond.setup.model import OwnStep

STEP = Table(
    "step",
    "A step of your own in every refill, behind one of the fixed ones.",
    (
        Field("id", "id", "name", "a short word of its own: small letters, digits, hyphens",
              '"own-lid"', required=True),
        Field("after", "after", "name", "the id of the step that it stands behind", '"mix"',
              required=True),
        Field("text", "text", "text", "what to do, in your own words", '"Lay the lid on"',
              required=True),
        Field("kind", "kind", "choice", "tick: done or not; number: something is read and written "
              "down; wait: so many minutes", '"tick"', "tick", words=("tick", "number", "wait")),
        Field("unit", "unit", "text", "of the number that is read", '"bar"'),
        Field("minutes", "minutes", "time", "how long to wait", '"5 min"', low=0, high=10_080),
    ),
    OwnStep,
    many="list",
)  # fmt: skip
