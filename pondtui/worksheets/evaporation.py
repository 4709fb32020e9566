"""Worksheets on evaporation."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import evaporation, pans, sun
from pondtui.science.evaporation import Day
from pondtui.worksheets.registry import Input, Result, Worksheet
from pondtui.worksheets.sizes import one_of

_PLACE_AND_DAY = (
    Input("latitude", "angle", "latitude, south negative", low=-90, high=90, signed=True),
    Input("date", "date", "the day", required=False),
    Input("day", "number", "day of the year, in place of the date", None, 1, 366, required=False),
)
_FAO = "Allen, Pereira, Raes & Smith (1998) FAO Irrigation and Drainage Paper 56"


def _temperature(name: str, text: str, *, required: bool = True) -> Input:
    return Input(name, "temperature", text, None, -90, 60, required=required)


def _share(name: str, text: str, *, required: bool = False) -> Input:
    return Input(name, "fraction", text, None, 0, 1, required=required)


def _day_of_year(values: Mapping[str, Any]) -> int:
    if one_of(values, "date", "day") == "date":
        return int(values["date"].timetuple().tm_yday)
    if values["day"] != int(values["day"]):
        raise InputError("day: a whole number from 1 to 366")
    return int(values["day"])


def _percent(values: Mapping[str, Any], name: str) -> float | None:
    return 100 * values[name] if name in values else None


def _evaporation(values: Mapping[str, Any]) -> dict[str, float | str]:
    result = evaporation.of_day(
        Day(
            values["tmax"],
            values["tmin"],
            values["latitude"],
            _day_of_year(values),
            values["elevation"] / 1000,
            vapour_kpa=values.get("vapour_pressure"),
            dew_c=values.get("tdew"),
            dry_c=values.get("dry_bulb"),
            wet_c=values.get("wet_bulb"),
            rhmax_pct=_percent(values, "rhmax"),
            rhmin_pct=_percent(values, "rhmin"),
            rhmean_pct=_percent(values, "rhmean"),
            wind_m_s=values.get("wind"),
            wind_height_m=values["wind_height"] / 1000,
            radiation_mj=values.get("radiation"),
            sun_h=values["sun"] / 60 if "sun" in values else None,
            coast=values["coast"],
        )
    )
    results: dict[str, float | str] = {
        "reference_mm": result.reference_mm,
        "open_water_mm": result.open_water_mm,
        "pond_mm": values["site_factor"] * result.open_water_mm,
        "net_radiation_mj": result.net_radiation_mj,
        "water_net_radiation_mj": result.water_net_radiation_mj,
        "solar_mj": result.solar_mj,
        "wind_2m_m_per_s": result.wind_2m_m_s,
        "extraterrestrial_mj": result.extraterrestrial_mj,
        "daylight_h": result.daylight_h,
        "vapour_pressure_kpa": result.vapour_kpa,
        "method": result.method,
    }
    if result.penman_mm is not None:
        results["penman_mm"] = result.penman_mm
    return results


def _hargreaves(values: Mapping[str, Any]) -> dict[str, float | str]:
    above = sun.extraterrestrial_mj(values["latitude"], _day_of_year(values))
    return {"reference_mm": evaporation.hargreaves_mm(values["tmax"], values["tmin"], above)}


def _pan(values: Mapping[str, Any]) -> dict[str, float | str]:
    around = [name for name in ("surround", "wind", "humidity", "fetch") if name in values]
    if "coefficient" in values:
        if around:
            raise InputError(f"give the coefficient or the surroundings; {around[0]} is left over")
        factor = values["coefficient"]
    elif len(around) == 4:
        by = pans.table_coefficient if values["method"] == "table" else pans.coefficient
        fetch_m = values["fetch"] / 1000
        factor = by(values["surround"], values["wind"], 100 * values["humidity"], fetch_m)
    else:
        raise InputError("give the coefficient, or surround, wind, humidity and fetch together")
    return {"evaporation_mm": factor * values["pan"], "coefficient": factor}


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="evaporation",
        group="evaporation",
        title="Evaporation of a day from the weather",
        inputs=(
            _temperature("tmax", "highest air temperature of the day"),
            _temperature("tmin", "lowest air temperature of the day"),
            *_PLACE_AND_DAY,
            Input("elevation", "length", "height above the sea", None, -450e3, 6000e3, signed=True),
            _share("rhmax", "largest relative humidity"),
            _share("rhmin", "least relative humidity"),
            _share("rhmean", "mean relative humidity"),
            _temperature("tdew", "dew point", required=False),
            Input("vapour_pressure", "vapour_pressure", "actual one", None, 0, 10, required=False),
            _temperature("dry_bulb", "dry bulb, with the wet bulb", required=False),
            _temperature("wet_bulb", "wet bulb, with the dry bulb", required=False),
            Input("wind", "speed", "mean wind of the day", None, 0, 150, required=False),
            Input("wind_height", "length", "height of the wind above ground", "2 m", 200, 200e3),
            Input("sun", "time", "hours of sunshine", None, 0, 1440, required=False),
            Input("radiation", "radiation", "measured solar", None, 0, 60, required=False),
            Input("coast", "yesno", "beside the sea or a large lake", "no"),
            Input("site_factor", "number", "the pond's own share of open water", "1", 0, 3),
        ),
        results=(
            Result("reference_mm", "mm", "evaporation of short grass"),
            Result("open_water_mm", "mm", "shallow open water, without shelter"),
            Result("pond_mm", "mm", "this pond, with its site factor"),
            Result("penman_mm", "mm", "open water by Penman, upper estimate, full station only"),
            Result("net_radiation_mj", "MJ/m2/day", "net radiation of grass"),
            Result("water_net_radiation_mj", "MJ/m2/day", "net radiation of water"),
            Result("solar_mj", "MJ/m2/day", "solar radiation, measured or filled in"),
            Result("wind_2m_m_per_s", "m/s", "wind at 2 m, 0.5 at least"),
            Result("extraterrestrial_mj", "MJ/m2/day", "radiation above the air"),
            Result("daylight_h", "h", "length of the day"),
            Result("vapour_pressure_kpa", "kPa", "actual vapour pressure"),
            Result("method", "", "what was measured and what was filled in"),
        ),
        formula="ET₀ = (0.408 Δ (Rn − G) + γ 900/(T + 273) u₂ (es − ea)) / (Δ + γ (1 + 0.34 u₂)); "
        "open water 1.05 ET₀",
        source=f"{_FAO}, Eq. 6, chapter 3, Table 12; Penman (1956) as in McMahon et al. (2013) "
        "HESS 17:1331-1363",
        cautions=(
            "From temperatures alone good to 0.4-0.5 mm a day: trust weeks, not days.",
            "Shelter acts once, through the site factor: 1.0 open, about 0.74 sheltered.",
            "Smoke, dust and reeds are not in it.",
        ),
        example={
            "tmax": "21.5 degC",
            "tmin": "12.3 degC",
            "latitude": "50.8 deg",
            "date": "2026-07-06",
            "elevation": "100 m",
            "rhmax": "84 %",
            "rhmin": "63 %",
            "wind": "10 km/h",
            "wind_height": "10 m",
            "sun": "9.25 h",
        },
        compute=_evaporation,
    ),
    Worksheet(
        name="hargreaves",
        group="evaporation",
        title="Evaporation of grass from temperatures alone",
        inputs=(
            _temperature("tmax", "highest air temperature of the day"),
            _temperature("tmin", "lowest air temperature of the day"),
            *_PLACE_AND_DAY,
        ),
        results=(Result("reference_mm", "mm", "evaporation of short grass"),),
        formula="ET₀ = 0.0023 (Tmean + 17.8) √(Tmax − Tmin) 0.408 Ra",
        source=f"{_FAO}, Eq. 52; Hargreaves & Samani (1985)",
        cautions=("A check beside the worksheet evaporation; too much where the air is damp.",),
        example={
            "tmax": "26.6 degC",
            "tmin": "14.8 degC",
            "latitude": "45.72 deg",
            "date": "2026-07-15",
        },
        compute=_hargreaves,
    ),
    Worksheet(
        name="pan-evaporation",
        group="evaporation",
        title="Evaporation from a Class A pan",
        inputs=(
            Input("pan", "depth_rate", "fall of the pan in a day", None, 0, 100),
            Input("coefficient", "number", "pan coefficient", None, 0, 1.5, required=False),
            Input(
                "surround",
                "choice",
                "what lies upwind of the pan",
                None,
                words=pans.SURROUNDS,
                required=False,
            ),
            Input("wind", "speed", "wind at 2 m", None, 0, 150, required=False),
            _share("humidity", "mean relative humidity"),
            Input("fetch", "length", "reach of that surround", None, 0, 1e8, required=False),
            Input(
                "method",
                "choice",
                "formula (Table 7) or table (Table 5)",
                "formula",
                words=("formula", "table"),
            ),
        ),
        results=(
            Result("evaporation_mm", "mm", "coefficient × pan"),
            Result("coefficient", "", "pan coefficient"),
        ),
        formula="E = Kp × pan",
        source=f"{_FAO}, Eq. 55, Tables 5 and 7",
        cautions=(
            "A screen over the pan, a dark or leaning pan, or drinking birds change it.",
            "The factor 1.05 of open water is not in it.",
        ),
        example={
            "pan": "8.2 mm/day",
            "surround": "green",
            "wind": "1.9 m/s",
            "humidity": "73 %",
            "fetch": "1000 m",
        },
        compute=_pan,
    ),
)
