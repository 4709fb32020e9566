"""`pondtui sample [VERB ...]`: any verb on the invented pond's own copy."""

from __future__ import annotations

from pondtui.books import samples
from pondtui.cli.context import Context
from pondtui.cli.dispatch import dispatch
from pondtui.cli.words import Call, parse
from pondtui.errors import UsageError
from pondtui.paths import data_dir, sample_source

METRIC = "metric"
US = "us"


def run(call: Call, context: Context) -> int:
    """Open the copy, or make it, and do there what the rest of the call says."""
    inner = parse(call.words)
    if inner.verb.nested or inner.has("pond") or call.has("pond"):
        raise UsageError("the sample has its own folder: leave out --pond, and the second `sample`")
    name = US if call.has("us") else METRIC
    source = sample_source()
    if name not in samples.names(source):
        raise UsageError(f"there is no sample pond in {name} units yet: leave out --{name}")
    folder = data_dir() / "sample" / name
    ahead = samples.open_copy(source / name, folder, context.now, call.has("fresh"))
    as_json = context.as_json or inner.has("json")
    return dispatch(inner, context.inside(folder, ahead, as_json=as_json))
