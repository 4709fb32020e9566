"""What is measured ends as a text that the field's own reader takes."""

from __future__ import annotations

import pytest

from pondtui.errors import InputError
from pondtui.pond.setup.forms import as_raw
from pondtui.pond.setup.tables import TABLES
from pondtui.pond.setup.values import read_value
from pondtui.views.measures import MEASURES, asked, example, measure_for, work_out
from pondtui.worksheets.registry import find

BARREL = {
    "shape": "upright", "diameter": "57 cm", "height": "90 cm", "outlet": "70 mm",
    "drop": "35 cm", "pipe_bore": "19 mm", "pipe_length": "9 m", "width": "",
}  # fmt: skip
SERVED = [place.partition(".")[::2] for m in MEASURES for place in m.serves]


@pytest.mark.parametrize("system", ["metric", "us", "imperial"])
@pytest.mark.parametrize(("table", "key"), SERVED)
def test_the_worksheets_example_fills_a_field_that_its_reader_takes(
    table: str, key: str, system: str
) -> None:
    measure = measure_for(table, key)
    assert measure is not None
    given = find(measure.sheet).example
    typed = {name: given[name] for name in measure.asks if name in given}
    found = work_out(measure, key, typed, BARREL, system)
    assert key in found.fills
    assert found.told
    for name, text in found.fills.items():
        field = TABLES[table].field(name)
        assert field is not None
        read_value(field, as_raw(field, text), "us" if system == "us" else None)


def test_a_barrels_girth_gives_its_diameter() -> None:
    measure = measure_for("barrel", "diameter")
    assert measure is not None
    found = work_out(measure, "diameter", {"girth": "1885 mm", "wall": "0 mm"}, {}, "metric")
    assert found.fills == {"diameter": "600 mm"}  # constructed: 600 pi


def test_a_dipstick_fills_the_field_it_was_asked_from() -> None:
    measure = measure_for("barrel", "full_line")
    assert measure is not None
    typed = {"stick": "1 m", "dry": "15 cm"}
    assert work_out(measure, "full_line", typed, {}, "metric").fills == {"full_line": "850 mm"}


def test_a_survey_makes_the_pond_a_table_in_the_keepers_units() -> None:
    measure = measure_for("basin", "areas")
    assert measure is not None
    rows = {"outline": "rectangle", "row_1": "0 in: 10 ft x 7 ft", "row_2": "30 in: 4 ft x 3 ft"}
    found = work_out(measure, "areas", rows, {}, "us").fills
    assert found == {"areas": "0 in, 70 ft2; 30 in, 12 ft2", "shape": "table"}


def test_a_watched_release_gives_back_the_losses_it_ran_with() -> None:
    measure = measure_for("barrel", "fittings")
    assert measure is not None
    typed = {"depth_start": "840 mm", "depth_end": "200 mm", "time": "14 min"}
    k = float(work_out(measure, "fittings", typed, BARREL, "metric").fills["fittings"])
    slower = typed | {"time": "16 min"}
    assert float(work_out(measure, "fittings", slower, BARREL, "metric").fills["fittings"]) > k > 0


def test_a_size_that_the_shape_does_not_use_is_left_aside() -> None:
    measure = measure_for("barrel", "fittings")
    assert measure is not None
    typed = {"depth_start": "840 mm", "depth_end": "200 mm", "time": "14 min"}
    both = BARREL | {"width": "nonsense"}
    assert work_out(measure, "fittings", typed, both, "metric").fills["fittings"]


def test_what_is_missing_is_said() -> None:
    measure = measure_for("source", "flow")
    assert measure is not None
    with pytest.raises(InputError, match="still needs time"):
        work_out(measure, "flow", {"volume": "10 L"}, {}, "metric")


def test_every_line_says_what_to_type() -> None:
    for measure in MEASURES:
        for field in asked(measure):
            assert example(measure, field.name, "metric")
            assert example(measure, field.name, "us")
