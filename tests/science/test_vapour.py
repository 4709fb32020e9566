"""Air pressure and vapour against FAO-56's examples and annex tables."""

from __future__ import annotations

import pytest

from pondtui.science import vapour


@pytest.mark.parametrize(
    ("elevation", "kpa"),
    # FAO-56 (1998) Example 2 p. 32 and Annex 2 Table 2.1 p. 213
    [(1800, 81.8), (100, 100.1), (0, 101.3)],
)
def test_pressure_falls_with_height(elevation: float, kpa: float) -> None:
    assert vapour.pressure_kpa(elevation) == pytest.approx(kpa, abs=0.05)


def test_the_psychrometric_constant_is_the_printed_one() -> None:
    # FAO-56 (1998) Example 2 p. 32
    gamma = vapour.psychrometric_kpa_c(vapour.pressure_kpa(1800))
    assert gamma == pytest.approx(0.054, abs=5e-4)


@pytest.mark.parametrize(
    ("temp", "kpa"),
    # FAO-56 (1998) Annex 2 Table 2.3 p. 215
    [
        (1.0, 0.657), (5.0, 0.872), (10.0, 1.228), (15.0, 1.705), (20.0, 2.338), (25.0, 3.168),
        (30.0, 4.243), (35.0, 5.623), (40.0, 7.376), (48.5, 11.447),
    ],
)  # fmt: skip
def test_saturation_meets_the_annex(temp: float, kpa: float) -> None:
    assert vapour.saturation_kpa(temp) == pytest.approx(kpa, abs=6e-4)


@pytest.mark.parametrize(
    ("temp", "kpa_c"),
    # FAO-56 (1998) Annex 2 Table 2.4 p. 216
    [(1.0, 0.047), (10.0, 0.082), (20.0, 0.145), (30.0, 0.243), (40.0, 0.393), (48.5, 0.574)],
)
def test_the_slope_meets_the_annex(temp: float, kpa_c: float) -> None:
    assert vapour.slope_kpa_c(temp) == pytest.approx(kpa_c, abs=6e-4)


def test_the_slope_is_the_derivative_of_saturation() -> None:
    for temp in (-5.0, 0.0, 12.0, 33.0):
        rise = vapour.saturation_kpa(temp + 0.005) - vapour.saturation_kpa(temp - 0.005)
        assert vapour.slope_kpa_c(temp) == pytest.approx(rise / 0.01, rel=1e-3)


def test_a_days_saturation_is_the_mean_of_its_extremes() -> None:
    # FAO-56 (1998) Example 3 p. 36: 2.39; at the mean temperature it would be 2.30
    assert vapour.mean_saturation_kpa(24.5, 15) == pytest.approx(2.39, abs=0.005)


def test_humidity_by_every_road_meets_the_printed_one() -> None:
    # FAO-56 (1998) Example 4 p. 38, wet and dry bulb at 1200 m
    bulbs = vapour.from_psychrometer_kpa(25.6, 19.5, vapour.pressure_kpa(1200))
    assert bulbs == pytest.approx(1.91, abs=0.005)
    # FAO-56 (1998) Example 5 p. 39: 1.70 by Eq. 17, 1.78 by Eq. 19
    assert vapour.from_extremes_kpa(25, 18, 82, 54) == pytest.approx(1.70, abs=0.005)
    assert vapour.from_mean_kpa(25, 18, 68) == pytest.approx(1.78, abs=0.005)
    assert vapour.from_largest_kpa(18, 82) == pytest.approx(0.82 * 2.064, abs=0.002)


def test_saturated_air_reads_the_same_by_every_road() -> None:
    whole = vapour.saturation_kpa(18)
    assert vapour.from_psychrometer_kpa(18, 18, 100) == whole
    assert vapour.from_extremes_kpa(18, 18, 100, 100) == pytest.approx(whole)
    assert vapour.from_mean_kpa(18, 18, 100) == pytest.approx(whole)
    assert vapour.from_largest_kpa(18, 100) == whole


def test_air_that_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="wet bulb"):
        vapour.from_psychrometer_kpa(18, 19, 100)
    with pytest.raises(ValueError, match="0 to 60 %"):
        vapour.from_extremes_kpa(25, 18, 60, 80)
    with pytest.raises(ValueError, match="mean humidity"):
        vapour.from_mean_kpa(25, 18, 120)
    with pytest.raises(ValueError, match="-90 to 100 degC"):
        vapour.saturation_kpa(200)
