"""The reference of the worksheets, written from their registrations."""

from __future__ import annotations

from collections.abc import Iterator

from pondtui.views.pages.page import Page, row
from pondtui.views.sheets import takes
from pondtui.worksheets.registry import Worksheet, sheets

NAME = "worksheets"
INTRO = """\
Each calculation of the program stands on its own as a worksheet, with formula,
source, limits and cautions. Press w on Today, or:

    pondtui worksheet
    pondtui worksheet fill-time
    pondtui worksheet fill-time volume="150 L" flow="11 L/min"
    pondtui worksheet fill-time volume="150 L" flow="11 L/min" --json

A worksheet needs no pond. A value outside of a formula's range is refused, and
the sentence names the range. With a pond, a bare gal is that pond's gallon, and
w and `pondtui worksheet` show the example in the pond's units, rounded.

"""


def pages() -> Iterator[Page]:
    """All worksheets by name, then one page each."""
    found = list(sheets())
    rows = "\n".join(row(sheet.name, sheet.title) for sheet in found)
    yield Page(NAME, "every calculation, with formula and source", f"{INTRO}{rows}\n")
    for sheet in found:
        yield Page(f"{NAME} {sheet.name}", f"worksheet: {sheet.name}", _sheet(sheet))


def _sheet(sheet: Worksheet) -> str:
    example = " ".join(f'{name}="{value}"' for name, value in sheet.example.items())
    inputs = [row(("" if i.required else "[") + i.name + ("" if i.required else "]"),
                  f"{i.help}. Takes {takes(i)}.") for i in sheet.inputs]  # fmt: skip
    results = [row(r.key, r.help + (f" [{r.unit}]" if r.unit else "")) for r in sheet.results]
    sources = [f"- {part.strip()}" for part in sheet.source.split("; ")]
    cautions = [f"> {caution}" for caution in sheet.cautions]
    return "\n".join(
        [f"{sheet.title[:1].upper()}{sheet.title[1:]}.", f"    {sheet.formula}", "",
         "# Takes", *inputs, "", "# Answers", *results, "",
         "# Source", *sources, *cautions, "",
         f"    pondtui worksheet {sheet.name} {example}", ""]
    )  # fmt: skip
