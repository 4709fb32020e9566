"""What a keeper can change about the program: looks, keys, settings; and what it promises."""

from __future__ import annotations

from pondtui.views.pages.page import Page

LOOKS = """\
v on Today shows the looks. The cursor tries each at once, Enter keeps it, Escape
goes back to what you had. The last line of the list takes plain ASCII signs.

dusk :: dark, for the evening round
noon :: light, for a screen in the sun
stark :: highest contrast on black
stark-light :: highest contrast on white
sundial :: told apart by eyes that mix up colours
terminal :: the terminal's own colours, also taken for NO_COLOR and where a
  terminal has 16 colours

PONDTUI_ASCII=1 draws with plain signs only, PONDTUI_ASCII=0 with all. Without it
the settings count, and a locale that is not UTF-8 gives plain signs.

# A theme of your own
Put a file such as mine.toml into the folder themes beside the settings (`pondtui
where` names the place). Copy these lines and change the colours:

    name = "mine"
    dark = true
    primary = "#7fc4e8"
    secondary = "#a9b8d8"
    accent = "#f0b878"
    foreground = "#e6e9ec"
    background = "#10181d"
    surface = "#172229"
    panel = "#1f2c35"
    success = "#86e0b0"
    warning = "#f2cf63"
    error = "#ff7f6e"
    [variables]
    water = "#8fd3ff"
    water-fill = "#123a52"
    earth = "#c2a27c"
    plant = "#9ccc78"
    mark = "#d9c8f0"
    quiet = "#a7b3bb"

All of them must be there, as #rrggbb, and each text must have a contrast of at
least 4.5 to what it stands on. A file that does not hold is named at the start,
with the reason, and skipped.
"""
SETTINGS = """\
The program's own settings lie in settings.toml; `pondtui where` names the place. It
may be edited by hand while the program is closed, and deleted at any time. What
cannot be used there is named and left at its default.

device :: this device's name in the journal: 1 to 20 small letters, digits or
  hyphens. Left out: made of the host's name.
by :: your initials, written with each entry. Without ; and |.
last_pond :: the folder of the pond used last.
ponds :: the folders of all ponds that were open here, the latest first; 20 at most.
theme :: the name of a theme. Left out: dusk, or the terminal's own colours.
ascii :: true draws with plain signs only. Left out: false.
keys :: a table of your own keys. See `pondtui help keys`.

    device = "desk"
    by = "MO"
    theme = "noon"
    ascii = false
    [keys]
    level = "g"

# Variables
PONDTUI_POND :: the pond folder, where --pond does not name one
PONDTUI_NOW :: sets the clock, such as 2026-06-03 07:42:00+02:00
PONDTUI_ASCII :: 1: plain signs only; 0: all signs
PONDTUI_DEBUG :: 1: shows the trace of a fault of ours
NO_COLOR :: any text: no colours
"""
JSON = """\
With --json a verb that reads answers with one JSON object. Its keys carry their
units (volume_l, depth_mm, temp_c, dose_ml, loss_mm_per_day). Numbers are not
rounded. Times are RFC 3339, days are 2026-06-03. What is not known is null.

A key that is renamed or taken away is a breaking change, and stands under Changes
in the README. New keys may come. An error is {"error": "..."} on standard error,
a warning is {"warning": "..."} there.

# The keys at the top
status :: level_mm, level_age_h, loss_mm_per_day, barrels, batch, alarms, due,
  feeding, animals, outlook, and all keys of plan (visit with --sitter)
plan :: from_mm, to_mark, to_mm, need_l, batches, conditioner_ml,
  conditioner_left_ml, cost, pond_temp_after_c, ammonia_rise_n_mg_per_l, total_min,
  closed
water :: from, to, terms_l, uncertainty_l, tap_l, barrels, conditioner_ml, cost,
  periods
loss :: site_factor, site_factor_low, site_factor_high, steady_mm_per_day,
  steady_low_mm_per_day, steady_high_mm_per_day, steady_l_per_day,
  steady_low_l_per_day, steady_high_l_per_day, confidence, verdict, more_readings,
  changed_on, allowance_mm_per_day, runs, left_out, around, seeping
outlook :: rests_on_days, levels, marks, without_rain, chance_stated, more_readings,
  reason
away :: from, to, mark, alone, alone_days, visits, chance_kept,
  chance_kept_one_missed, keeps_promise, filled_first, water_l, conditioner_ml,
  stock_lasts, before_leaving, changes, rests_on_days, remarks, more_readings, reason
sheet :: sheet, from, to, sitter, visits, remarks, text (file with -o)
check :: problems, remarks
journal :: entries
chores :: chores, feeding
tests :: where, tests
supplies :: supplies
automation :: by_hand, float_valve, carbon_filter, doser
bucket-test :: smallest_mm_per_day, tests, pump_on_excess_mm_per_day,
  pump_on_excess_low_mm_per_day, pump_on_excess_high_mm_per_day, next
where :: version, settings_file, data_folder, device, now, pond_folder, journal_files,
  locks, read_only
worksheet :: worksheet, inputs, results, sources, cautions, notes (worksheets, without
  a name)
export :: water: as water; entries: a list of stamp, kind, fields, values, note, file,
  line, struck

# What stands inside
batches :: barrel, held_l, heel_l, add_l, treat_l, dose_ml or dose_g, measured_ml,
  fill_min, wait_min, release_l, release_min, leaves_l
closed :: guard, reason
barrels of status :: name, held_l, untreated_l, ready; of a rain barrel expected_l, what
  the roof should have brought: a guess, never counted as water that is there
terms_l :: start, rain, downpipe, released, direct, evaporation, steady, overflow,
  drained, residual, end; uncertainty_l has the same names
problems and remarks of check :: file, line, column, message

    pondtui status --json
    pondtui plan --json
    pondtui export entries --as json -o FILE
"""
VALUES = """\
A value is written with its unit, and read the same way on the screen, on the
command line, in the journal and in pond.toml:

    150 L   40 US gal   9 imp gal   62 mm   2 7/16 in   18.5 degC   64 degF
    11 mL   2 tsp   1 h 20 min   0.6 mg/L   0.6 ppm   11 L/min   40 %

- A bare gal is the gallon of the pond's own units, and the answer says which.
- A decimal comma is refused, never guessed at: write 12.5 L.
- A test value may carry its basis (0.5 mg/L as N) or stand under the kit's first
  step (<0.02 mg/L). In a shell, quote what holds such a sign: "<0.02 mg/L".
- A rate is a dose for a volume: 8 mL per 100 L.
- A change of temperature in degF has no 32 in it.
- tsp is the label's spoon of 5 mL; US tsp is 4.93 mL.
"""
EXIT_CODES = """\
0 :: done
1 :: check found problems; with --exit-code: something to do, or a guard closed
2 :: the words of the call are wrong
3 :: a file cannot be read or written
70 :: a fault of pondtui itself
128+ :: a signal, such as 130 for Ctrl+C

Errors go to standard error, one sentence each. A closed pipe is no error. No
guard ever refuses a fact: what happened is always taken.
"""
PAGES = (
    Page("looks", "colours, plain signs, themes of your own", LOOKS),
    Page("settings", "the program's own settings, and variables", SETTINGS),
    Page("values", "how values and units are written", VALUES),
    Page("json", "the JSON promise", JSON),
    Page("exit-codes", "what a call ends with", EXIT_CODES),
)
