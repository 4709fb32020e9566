"""Using the program: the first ten minutes, a refill, the water budget, a phone, its limits."""

from __future__ import annotations

from pondtui.views.pages.page import Page

FIRST = """\
# The first ten minutes
Type `pondtui`. Where no pond is known yet, a welcome offers three ways: look
round an invented pond (metric or US), set up your own, or open a folder that has
a pond.toml.

Setting up asks about twenty short questions in your own words and units, and
draws pond and barrel to scale as the numbers come in. Leave at any time: the
answers are kept, and you go on where you were. The last question is the first
reading of the gauge. All the rest (chores, supplies, people) can wait.

    pondtui
    pondtui sample
    pondtui sample --us
    pondtui sample status
    pondtui new DIR

# Every day
- Today shows the level, what it loses, the next mark, the barrels and what is due.
- l writes a reading of the gauge, t a water test, n a note, r begins a refill.
- 1 to 9 tick what is due.
- e takes a hurried line: level 62, rain 4, note heron again.
- ? says how the chosen figure came about. h is help, u takes back.

# Changing the description
o on Today opens Setup: all that pond.toml and procedure.toml hold, table by table,
each field with its help, its limits and what follows from it. What is wrong stands
at its field, and nothing is written until it is right. Your comments stay; the file
as it was stays as pond.toml.before. Changes in Setup that you have not written
outlive a killed program: Today says so, and Setup asks whether to take them up. By
hand: any editor, then `pondtui check`, and `pondtui help pond-toml` for every key.

# Several ponds
y on Today shows the ponds that were open here: choose one, add one, or look
round the sample. The pond used last opens next time. On the command line,
--pond DIR or the variable PONDTUI_POND names another one.

# Installing
    pipx install DIR
    uv tool install DIR

DIR is the folder with the source, or a wheel made from it. Both put `pondtui` on
your path with an environment of its own. It needs Python 3.11 or newer, on Linux
or macOS, on Windows through WSL. `python -m pondtui` works as well.

# In your shell
Completion of verbs, options, kinds, worksheets and the names of your pond: put the
line of your shell into its start file.
    source <(pondtui completion bash)
    source <(pondtui completion zsh)
    pondtui completion fish | source

`man pondtui` shows the commands, where the man page was put on your path.
"""
REFILL = """\
Press r on Today. At the left stands the checklist, in the middle the step that
is on with its number, at the right the barrel as it stands.

Enter or Space does the step. A digit opens its field. While water runs the
volume counts along; it rings at 80 % of the time and at the end. Closing the
program, or losing power, changes nothing: all of it follows from the journal,
on each device.

d :: a look into the barrel (dip): what stands there now
b :: pass a step over with a reason; it says beforehand what that does to the pond
p :: let out the part that there is room for
m :: fill or let out more in the same batch
f :: go on with what the barrel holds
o :: the other barrel
x :: give the batch up; the water stays

# The same by commands
    pondtui plan
    pondtui add level reading="62 mm"
    pondtui add fill barrel=yard added="150 L"
    pondtui add treat barrel=yard dose="13.5 mL"
    pondtui add test where=yard chlorine_total="<0.02 mg/L"
    pondtui add release barrel=yard out="150 L"

`pondtui plan` says how much water, which barrel, how long the hose runs, what
dose, how long to wait, and every reason not to begin. `pondtui plan --to MARK`
fills up to another mark. A wrong entry is taken back with `pondtui undo`.

What happened is always taken, however late and however wrong it was: the program
warns, it does not refuse a fact.
"""
WATER = """\
`pondtui water`, or b on Today, adds up the season: water at the start, rain,
roof, barrels and what was put in straight, less evaporation, steady loss, what
ran over and what was taken out. What is left over stands there as "not
explained". It is called out only when it is more than all errors together allow.

The errors are halves of 95 % intervals: the gauge's own, 10 % of rain in the
pond's gauge, 25 % of rain from a table, 5 % of litres written down (these three
are common practice, no source), and those of the loss estimate. Evaporation and
steady loss trade with each other: their sum is known far better than either, and
stands beside them. A term of which nothing is known is shown as "?", in JSON as 0
with an uncertainty of null.

    pondtui water --by month
    pondtui water --as html -o FILE
    pondtui loss
    pondtui loss --around STAMP
    pondtui outlook --days 21
    pondtui export water --as csv -o FILE

# How evaporation is worked out
FAO-56 Penman-Monteith reference evaporation times 1.05 for open water (FAO-56
Table 12), with that paper's own ways to fill gaps, times the site factor of your
pond. The first guess of that factor is 1.0 in the open and 0.74 where it is
sheltered; your own readings give a better one. Without daily weather the monthly
means of pond.toml are used. Smoke and dust days are uncertain.

# How a loss is judged
The falls between readings are fitted with their errors, which neighbours share.
"steady loss": the interval lies above 0.5 mm/day. "none found": it lies below
1 mm/day. "inconclusive" and "more readings needed" are honest answers: 30 daily
readings with 2 mm error cannot show 2 mm/day, 60 can.

# Weather tables
Put daily weather as CSV into weather/ and name its columns in pond.toml. Or:
    pondtui import weather FILE
"""
PHONE = """\
The program runs in a terminal, so a telephone or tablet reaches it over SSH:

- On the computer at home: switch its SSH server on, with a key, not a password.
- On the telephone: any SSH app. Log in, type `pondtui`.
- From outside the house: use the private network that you have for it, not an
  open port.

Nothing of ours listens on the network. There is no server, no account and no
cloud: SSH is your system's own.

# Small screens
80 columns by 24 lines show all. 60 by 20 are useful. Below that one plain panel
shows the step and the amount, such as 40 by 20 on a telephone held upright; under
20 by 5 it is one line. Turn the telephone for the drawings. What was typed stays
when the screen turns.

Where a key is missing on the telephone, another does the same: Backspace or q go
back like Escape, Enter or Space do a step, e takes any entry as one line.

Run it inside tmux or screen if the line may break: the program goes on, and you
come back to it. Without them nothing is lost either, for every entry is on the
disk before the screen says so.

# Two devices
A telephone that keeps the pond's folder itself (by a synchroniser) writes a file
of its own: see `pondtui help sharing`.
"""
READER = """\
Every daily action is a plain command, and its answer is plain lines:

    pondtui status
    pondtui status --alarms
    pondtui plan
    pondtui chores
    pondtui sheet
    pondtui journal --last 5

They say all that the screens say. Output to a pipe has no colour. No command
asks a question where there is no terminal. With TERM=dumb, `pondtui` itself
prints the status.

On the screen, no colour stands alone: a word or a sign stands beside it. Plain
ASCII signs: set PONDTUI_ASCII=1, or v on Today. NO_COLOR=1 takes all colour away.
"""
LIMITS = """\
What the program cannot know, and so does not say:

- Whether the water is safe. It knows what you wrote down. A wrong reading gives
  a wrong dose.
- What is in the tap today. The strength in pond.toml is what somebody measured once.
- Whether a bottle of conditioner still works.
- Whether the outlet is really shut. Look.
- A leak, from the level alone. Only a bucket test may say so.
- How deep the pond is between the points that you measured. A volume from a
  shape may be off by a tenth or more; each release checks it a little.
- How much rain really fell on the pond: a gauge under trees catches less.
- The weather to come. The outlook draws on the weather of past days and of
  other years, and says so. It gives 10, 50 and 90 %, never a promise.
- How long a release takes, before you have timed one. Until then it is an estimate.
- What a fish feels. A fish in distress goes before every figure.

Figures without a source are marked as common practice. Those that a keeper may
want to change stand in pond.toml.

# Sizes
A garden pond is meant. The arithmetic takes 1 mL to 10,000 m3 of water, and up to
5 ha of surface. A journal file may have 20 MiB; a larger one opens read-only.
"""
AUTOMATION = """\
A barrel by hand asks for ten minutes and is looked at. What runs alone fails
alone. Before you buy anything:

    pondtui automation

It works out, for this pond, what a stuck valve would do in a night, how long a
carbon filter has contact at your flow, and what a doser must give.

- Float valve: lift it by hand, and the flow must stop. The overflow is at least
  as wide as the inflow. The air gap stays. Never shut a nozzle on a live hose
  behind a vacuum breaker for more than 12 h.
- Carbon: about 2 min of contact for free chlorine, 10 min for chloramine
  (dialysis practice). One litre of carbon at hose flow has 4 seconds. A filter
  sold for taste is no filter for fish. Count the litres, and test behind it.
- Doser: one that injects into a live hose is a cross-connection. Inject behind
  the gap, or with an approved device.
- Level sensor, thermometer, flow meter: their log is taken in as entries, each
  only once: `pondtui import log FILE`.

The worksheets stuck-valve, carbon-contact and doser-rate have the sums.

# A script of your own
Every verb that reads answers with --json, and exit codes tell what is up:
    pondtui status --alarms --exit-code
    pondtui plan --json --exit-code
Run it from cron and send yourself what it prints. See `pondtui help json` and
`pondtui help exit-codes`.
"""
PAGES = (
    Page("first-steps", "the first ten minutes, every day, several ponds", FIRST),
    Page("refill", "how a refill goes, on the screen and by commands", REFILL),
    Page("water-budget", "where the water goes, and how sure that is", WATER),
    Page("phone", "from a phone or tablet, over SSH", PHONE),
    Page("screen-reader", "plain lines in place of screens", READER),
    Page("automation-later", "valve, carbon, doser, sensors, scripts", AUTOMATION),
    Page("cannot-know", "what the program cannot know", LIMITS),
)
