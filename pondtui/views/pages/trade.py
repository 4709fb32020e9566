"""How the work is done: plain words of the trade. Figures are common practice, no source, unless
another is named."""

from __future__ import annotations

from pondtui.views.pages.page import Page

SAFE_BATCH = """\
One batch is one barrel of water: filled, treated, tested, let out. The Refill
screen walks you through it. This is what stands behind its steps.

# Before
- Barrel: food grade, what it held is known, and it is rinsed out. Refuse one
  that held pesticide, solvent, oil, antifreeze or something unknown. It stands
  level and is tied: water weighs 1 kg a litre.
- Outlet shut, and seen shut at the free end.
- Hose end fixed above the rim: twice the bore of the hose, 25 mm at least,
  three times near a wall (municipal codes, ASME A112.1.2). This air gap is a
  safety step, not advice: it keeps barrel water out of the drinking water. The
  hose tap has a vacuum breaker.
- A hose that lay in the sun is run off first.
- Watering is not forbidden today.

# Fill
Stay near. Tap flow varies, so the program rings at 80 % of the time and again at
its end; nobody should rely on a bell. Shut the tap at the wall, and take the
hose out before the conditioner goes in.

# Treat
- Dose for the water that is really there, not for the barrel's nominal size.
- The heel below the outlet counts too, unless it was treated and a TOTAL
  chlorine test on it has read nothing since.
- More for strong tap water, never less for one weak reading. Double only if the
  label says so for chloramine. Round up to the mark of your syringe or cap.
- Mix to the bottom. Wait at least as long as the label says.
- Standing is no treatment. With a half-life of 12 h, 2 mg/L of chlorine needs
  90 h to fall to 0.011 mg/L, and nobody knows your half-life.
- Unsure whether it was dosed? Test. No test at hand? Dose once more, within the
  label's largest dose.

# Test
Test TOTAL chlorine. A free test reads near zero on chloramine. No colour means
less than the kit's first step. Any colour: dose again, wait, test again.

# Release
Measure the barrel's temperature. See that the pond has room, on a reading of
today. Open slowly, through the planted bay where there is one: it stirs up less
mud. Shut the outlet. Read the gauge. Write it down.

Water straight from the hose into the pond: first conditioner for the whole POND.
Without that it is no refill, and the program calls it a bypass.

# Chlorine, how much is too much
US tap water may hold 4.0 mg/L (40 CFR 141.65). Aquatic life bears 0.011 mg/L for
four days and 0.019 mg/L for an hour (EPA 1984, from memory). Dilution is not
treatment: 4 mg/L would need 364 times the water.
"""
CONDITIONER = """\
# The bottle
Write the label into pond.toml, table [[conditioner]]: dose, the volume it is for,
the chlorine it is rated for, the factor for chloramine, the time to wait. What
the label does not say is left out; then every batch needs a test.

Date the bottle when you open it. Throw it away when it is cloudy or past its
date. Chemicals stay in their own bottle, locked away, never mixed. Gloves and
eye protection for powders.

# What it does not do
Conditioner does not take away the ammonia of chloramine: 0.198 mg of nitrogen
stay for each mg of combined chlorine. It destroys many medicines, and can make
an ammonia kit read high. Ascorbic acid is reported not to remove chloramine:
always test. Metabisulfite and bisulfite take oxygen fast, thiosulfate slowly.

# Too much
What was given is written down, also when it was too much. Then hold the water,
aerate it, and throw it away when it was far over.

# Strength of the tap water
A strength that you typed goes stale after 30 days: utilities change their
disinfectant for weeks. Ring them. Test at the tap when in doubt.

    pondtui worksheet conditioner-dose
    pondtui worksheet dechlorinator-mass
    pondtui worksheet chloramine-ammonia
"""
GAUGE = """\
- Read at the same hour each day, in calm water, from the same place.
- Say whether the pump runs. A basin that is held at its spill edge drains back
  when the pump stops.
- 2 mm either way is normal. Two readings a day apart are uncertain by 5 mm:
  look at a week, not at a day.
- In pond.toml, reads = "down" is from a fixed edge down to the water: a larger
  number is a lower pond. reads = "up" is a rule that stands in the water.
- A gauge that was moved is told to the journal with both readings: `pondtui add
  event what=gauge-moved was="62 mm" now="48 mm"`.

# What a loss means
A few mm a day is an ordinary summer loss, in a desert 16 mm. No single number
proves a leak. Wind, splash, birds, plants and wicking edges all look like one.
Emergent plants can add to what an open surface loses.

    pondtui add level reading="62 mm" pump=on
    pondtui loss
    pondtui outlook

# Rain
A rain gauge of 1 mm is 1 litre on each square metre. A trace is 0. Empty it, and
write it down: `pondtui add rain depth="4 mm"`.
"""
LEAK = """\
A bucket of pond water stands in the pond. It loses to the weather alone; the pond
loses to the weather and to the leak. The difference is the leak.

- Fill the bucket with pond water to a hand below its rim. Stand it in the pond,
  weighted, netted against animals.
- Mark both levels. Begin with the pump on: k on the Water screen, or the command below.
- Look as often as you like. No rain, no refill, meanwhile.
- Test again with the pump off. A loss that stops with the pump is at the falls,
  the spill edges or the hoses. A loss that goes on is in the liner: look down
  to the level where it stops.

With 1 mm of reading error the smallest leak that can be seen is 3.9 mm/day after
24 h, and 1.3 mm/day after 72 h. The program says so first, and takes 72 h.

    pondtui bucket-test start pond="62 mm" bucket="40 mm" pump=on
    pondtui bucket-test read pond="70 mm" bucket="45 mm"
    pondtui bucket-test status

Only such a test may say leak. What `pondtui loss` finds is a loss that does not
follow the weather, which may be splash or animals as well.
"""
TEMPERING = """\
Fish bear slow changes. At stocking: at most about 5 degF (2.8 degC) down, or 7 to
8 degF (about 4 degC) up, in half an hour (LSU AgCenter). Ponds swing 3 degC on a sunny
day.

For a refill the program advises from 1 degC on, and stops at 2 degC for one
release and 3 degC for one day. Both stand in pond.toml, table [limits].

- Measure the barrel's own temperature before you open: water in the sun is
  warm, tap water is cold.
- Too far apart? Let part of it out: the program says how much may go now. Or
  wait for the evening, or for the sun.
- A difference in degF is no temperature: 9 degF of difference are 5 degC.

    pondtui worksheet mix volume_1="3000 L" value_1="20 degC" volume_2="150 L" value_2="12 degC"
    pondtui worksheet largest-addition
    pondtui worksheet tempering-time
"""
RAIN = """\
- Use rain water first: it needs no conditioner. It has almost no alkalinity:
  watch the KH when it is much.
- Roofs of plastic, glass, tile and slate are good. Copper, zinc, lead flashing,
  moss treatment and bitumen are not for the pond.
- Throw the first rain after a dry time away, and all of it after smoke.
- Look at overflow, screen and lid. Lead the overflow away from foundations.
- Carried in buckets: count them, pour onto a plate or into the bay.

    pondtui add direct buckets=6 bucket="10 L" source=rain
    pondtui worksheet roof-catch area="12 m2" rain="8 mm"
    pondtui worksheet first-flush
"""
EMERGENCY = """\
# Untreated water got in
Conditioner for the whole POND at once, then air. Watch the fish. Test the pond
for TOTAL chlorine. `pondtui supplies` says what is kept back for this, and the
care sheet prints the amount for this pond in mL and in full syringes.

# Fish gasp at the surface
Air first: pump on, the fall running, an air pump if there is one. No water straight
from the hose. Then test ammonia, nitrite, oxygen and temperature. Feed nothing.

# The level falls fast
Pump off. Loss stops: look at falls, spill edges, hoses. Loss goes on: look at the
liner. Save the fish before the water.

# Too much conditioner
Air, and wait. Do not add more water in a hurry.

# Power off
Feed nothing. Stir the surface by hand, pour water from a bucket. After a day off
a filter is restarted with care, and ammonia is tested daily.

# Frost
Keep a hole open for gas. Never hammer ice. Drain barrels before hard frost.

# A person in the water
First the emergency services, then all else.
"""
CAUTIONS = """\
> This program is a logbook and a calculator, no measuring instrument. Labels,
  local plumbing, electrical, water-use and wildlife rules, and licensed people
  stand above anything it says.
> "No chlorine" means a TOTAL chlorine test, read at the time given. Standing
  overnight is no treatment.
> Barrel water is not for drinking: label the barrel. Never join barrel or pond
  to drinking water without an air gap.
> Every outdoor pump behind a 30 mA RCD or a GFCI. Unplug before hands go in.
> Young children drown in centimetres of water. Lids on full barrels, somebody near.
> Water weighs 1 kg a litre: a full barrel can crush. Stand it level, tie it, do
  not lift what is full.
> Chemicals locked away, in their own bottle. Gloves and eye protection for
  powders. Never mixed.
> Never siphon by mouth. Wash hands and cover cuts after pond work.
> Unsure: ring a fish vet and the water utility.
"""
PAGES = (
    Page("safe-batch", "fill, treat, test, release: one barrel safely", SAFE_BATCH),
    Page("dosing", "what binds the chlorine, and what it does not do", CONDITIONER),
    Page("gauge", "reading the level, and what a loss means", GAUGE),
    Page("is-it-a-leak", "the bucket test by hand", LEAK),
    Page("tempering", "cold and warm water", TEMPERING),
    Page("rain-water", "roofs, rain barrels, buckets", RAIN),
    Page("emergencies", "what to do at once", EMERGENCY),
    Page("cautions", "what stands above this program", CAUTIONS),
)
