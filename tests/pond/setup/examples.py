"""An invented pond whose file uses every table and key, and small changes to it."""

from __future__ import annotations

import tomllib
from typing import Any

WHOLE = """
format = 1

[pond]
name = "Alder Yard"
time_zone = "Europe/Dublin"
latitude = 53.25
elevation = "61 m"
units = "metric"
sheltered = false
currency = "EUR"

[gauge]
reads = "down"
error = "1.5 mm"

[[basin]]
name = "lower pool"
floats = true
shape = "battered"
length = "4.1 m"
width = "2.6 m"
depth = "0.9 m"
side_slope = 0.2
top_at = "10 mm"
from = 2024-03-01

[[basin]]
name = "reed trough"
held = true
shape = "table"
areas = [["0 mm", "1.1 m2"], ["15 cm", "0.9 m2"], ["30 cm", "0.5 m2"]]
draindown = "25 mm"
planted = true
water_share = "45 %"
gate = true
gate_level = "40 mm"

[[basin]]
name = "header bowl"
held = true
shape = "cone"
top_diameter = "1 m"
bottom_diameter = "0.6 m"
depth = "40 cm"

[[basin]]
name = "settling tub"
held = true
shape = "cylinder"
diameter = "0.8 m"
depth = "0.5 m"

[[mark]]
name = "lip"
reading = "15 mm"
role = "spill"

[[mark]]
name = "worn seam"
reading = "25 mm"
role = "seep"

[[mark]]
name = "full"
reading = "40 mm"
role = "target"

[[mark]]
name = "time to refill"
reading = "75 mm"
role = "top-up"

[[mark]]
name = "marsh shelf"
reading = "120 mm"
role = "warn"
rising = "push the marsh baskets back"

[[mark]]
name = "strainer"
reading = "260 mm"
role = "danger"

[[barrel]]
name = "green"
shape = "lying"
diameter = "620 mm"
length = "1.2 m"
full_line = "600 mm"
outlet = "45 mm"
pipe_bore = "25 mm"
pipe_length = "6 m"
fittings = 3
drop = "40 cm"
end_under_water = true
source = "mains"
into = "reed trough"
leave_at_least = "20 L"
former_content = "drinking water"
from = 2025-01-01
retired = 2029-01-01

[[barrel]]
name = "blue"
shape = "upright"
diameter = "0.58 m"
height = "0.95 m"
full_line = "0.9 m"
outlet = "6 cm"
source = "rain"
delivery = "carried"
bucket = "12 L"

[barrel.roof]
area = "9 m2"
runoff = 0.9
first_flush = "1 mm"
material = "slate"

[[barrel]]
name = "box"
shape = "straight"
width = "0.6 m"
breadth = "0.4 m"
height = "0.8 m"
full_line = "0.75 m"
outlet = "5 cm"
source = "mains"

[source.mains]
total_chlorine = "0.8 mg/L"
free_chlorine = "0.7 mg/L"
measured = 2026-06-11
chloramine = false
ph = 7.4
temperature = "11.5 degC"
flow = "9 L/min"
price = 2.65
price_per = "1 m3"
forbidden = ["06-15..09-15 mon,wed,fri 09:00-19:00", "sun"]

[[conditioner]]
kind = "liquid"
label_dose = "10 mL"
label_volume = "200 L"
chloramine_multiplier = 2.5
rated_for = "1.5 mg/L"
largest_multiple = 4
wait = "8 min"
devices = [["measuring glass", "50 mL", "2 mL"], ["pipette", "3 mL", "0.1 mL"]]
bottle = "1 L"
opened = 2026-02-10
best_before = 2028-02-01
dose_when = "before fill"

[[conditioner]]
from = 2026-09-01
kind = "dry"
agent = "thiosulfate-pentahydrate"
purity = "99 %"
margin = "15 %"
stock = "80 g/L"
devices = [["beaker", "100 mL", "5 mL"]]
bottle = "2 L"

[limits]
pond_change = "1.5 degC"
pond_change_per_day = "4 degF"
treated_keeps = "10 d"
need_clear_test = "unless known"
kit_first_step = "0.05 mg/L"

[season]
start = "03-15"
end = "11-15"

[[chore]]
name = "empty skimmer basket"
every = "2 d"
window = ["09-15", "12-15"]
person = "Jo"

[[chore]]
name = "wipe the gauge"
weekdays = ["sun"]

[[chore]]
name = "test the trip switch"
monthly = 1

[[chore]]
name = "watch the new ones"
after = "new-fish"
every = "1 d"
lasts = "30 d"

[[chore]]
name = "feed"
water = [["9 degC", "14 degC", "3 d"], ["14 degC", "27 degC", "1 d"]]

[[supply]]
name = "conditioner"
reorder_at = "200 mL"
place = "pump shed"
best_before = 2028-03-31

[[supply]]
name = "hose coupling"
thread = "3/4 in, outer"
used_by = "feed"
each = "1"

[downpipe]
area = "7 m2"
runoff = 0.8
first_flush = "0.4 mm"
material = "tile"

[kit]
ammonia = "0.1 mg/L as NH4"
nitrite = "0.05 mg/L as NO2"
nitrate = "5 mg/L as NO3"
alkalinity = "1 dH"
hardness = "1 dH"
oxygen = "1 mg/L"
chloride = "10 mg/L"
chlorine_free = "0.05 mg/L"

[readings]
ammonia_un_ionised = ["0.01 mg/L", "0.04 mg/L"]
nitrite = ["0.2 mg/L", "2 mg/L"]
nitrate = ["40 mg/L", "80 mg/L"]
ph = [6.6, 7.1, 8.4, 8.9]
ph_change = [0.2, 0.4]
alkalinity = ["2 dH", "4 dH"]
alkalinity_falling = ["3 dH", "4 dH"]
oxygen = ["4.5 mg/L", "6 mg/L"]
temp = ["25 degC", "82 degF"]
temp_change = ["2 degC"]

[[person]]
name = "Jo"
initials = "J"
free = ["mon", "thu"]
role = "sitter"
phone = "on the fridge"

[house]
emergency_number = "112"
stop_cock = "in the pump shed, red wheel"
breaker = "pump shed, marked POOL"
gate = "lift the latch, push"
gate_code = "2580"
dog = "none"
hours = "not before 8"
normal = "seven fish, the trough runs over evenly"
food = "one spoon from the blue tin"
late = "Jo goes on until told otherwise"

[weather]
files = ["weather/daily.csv"]
wind_height = "10 m"
day_starts = "00:00"
rain_day_starts = "09:00"
missing = ["", "NA"]
monthly_evaporation_mm = [8, 14, 30, 55, 80, 95, 98, 80, 50, 27, 12, 7]

[weather.columns]
date = "Day"
tmin = "Low [degC]"
tmax = "High [degC]"
rhmax = "RH high [%]"
rhmin = "RH low [%]"
rhmean = "RH [%]"
tdew = "Dew [degC]"
vapour_pressure = "Vapour [hPa]"
wind = "Wind [km/h]"
sun = "Sunshine [h]"
radiation = "Sun energy [MJ/m2/day]"
rain = "Rain [mm]"
"""

SMALL = """
[pond]
name = "Alder Yard"
[gauge]
reads = "down"
[[basin]]
name = "pool"
floats = true
shape = "box"
length = "3 m"
width = "2 m"
depth = "800 mm"
[[barrel]]
name = "yard"
shape = "upright"
diameter = "600 mm"
height = "900 mm"
full_line = "850 mm"
outlet = "70 mm"
drop = "300 mm"
[source.tap]
[[conditioner]]
kind = "liquid"
label_dose = "8 mL"
label_volume = "100 L"
"""


def whole() -> dict[str, Any]:
    """The whole file as tomllib gives it, fresh each time."""
    return tomllib.loads(WHOLE)


def small(**changes: Any) -> dict[str, Any]:
    """The least that a refill needs, with keys changed.

    `barrel={"outlet": "2 m"}` changes the first [[barrel]], None takes a key away, and a list
    replaces all tables of that name.
    """
    data: dict[str, Any] = tomllib.loads(SMALL)
    for table, change in changes.items():
        if table in data and isinstance(change, dict):
            there = data[table][0] if isinstance(data[table], list) else data[table]
            there.update(change)
            for key in [key for key, value in change.items() if value is None]:
                del there[key]
        else:
            data[table] = change
    return data
