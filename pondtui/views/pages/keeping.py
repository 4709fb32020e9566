"""The pond's folder: by hand, with git or a synchroniser, and in other hands."""

from __future__ import annotations

from pondtui.views.pages.page import Page

BY_HAND = """\
You can write the journal with any editor, on a machine that has no pondtui.

    my-pond/
      pond.toml            the pond; edit it by hand
      procedure.toml       optional: your own steps of a refill
      .gitattributes       lets git join two devices' journals
      journal/
        2026-desk.txt      one file a year and device; only added to
        2026-hand.txt      what you write with an editor
      weather/*.csv        optional: daily weather
      sheets/              what was printed; safe to delete

- Write into a file of your own, such as journal/2026-hand.txt, never into the
  file of a device: an editor that saves an old copy would take lines away. (If
  that happens the program says so and offers them again.)
- One line, one entry. The shortest ones:

    2026-06-03 07:42+02:00 | level | reading=62 mm
    2026-06-03 07:42+02:00 | note  | | heron at dawn
    2026-06-03 07:50+02:00 | rain  | depth=4 mm
    2026-06-03 08:04+02:00 | fill  | barrel=yard; added=150 L; source=tap
    2026-06-03 08:07+02:00 | treat | barrel=yard; dose=13.5 mL; for=168 L
    2026-06-03 08:20+02:00 | test  | where=yard; chlorine_total=<0.02 mg/L
    2026-06-03 08:31+02:00 | release | barrel=yard; out=150 L

- Then `pondtui check`: it names each line that it cannot read, with the place
  and the nearest right form.
- A program that is open shows your lines within two seconds.

The files are UTF-8. Line ends of Windows, and a byte order mark, are taken.
"""
SHARING = """\
Nothing but the pond's folder is kept, and each device writes a file of its own. So
anything that carries files carries a pond: a synchroniser, git, a stick.

# A file synchroniser
Let it carry the whole folder. Each device has its own name (small letters,
digits, hyphens; see `pondtui where`), and so its own file: there are no conflicts
in the journal. A copy that a synchroniser leaves beside a file is read too, and
changes nothing: the same entry counts once.

pond.toml is the one file that two devices may both change. Change it on one.

# git
    git init DIR
    git -C DIR add .
    git -C DIR commit -m "the pond as it stands"

The file .gitattributes tells git to join journals line by line. Conflict markers
that a merge leaves in a journal are problems on their own lines only.

# Backups
A copy of the folder is a whole backup. Settings and the sample's copy lie
elsewhere, and can be lost: `pondtui where` names them.

# Locks
Two programs may write into one file at once: each line is one write, under a
lock. Where a disk knows no locks, `pondtui where` says so: then let one program
write at a time.
"""
HANDING = """\
Before you leave:

- a on Today asks for the days, and shows what happens with no help, and the
  fewest visits that keep the level, also when one of them is missed.
- s there shows the care sheet, p writes it as text and as a page for a telephone.
- Rehearse one full barrel together. Leave one tested batch ready, so that the
  sitter only opens and shuts the outlet.
- Write phone numbers and the places of stop-cock and breaker into pond.toml,
  tables [[person]] and [house].

    pondtui away 2026-10-12 2026-10-20 --sitter "Tam Brook"
    pondtui sheet 2026-10-12 2026-10-20 --sitter "Tam Brook"
    pondtui sheet 2026-10-12 2026-10-20 --as html -o FILE
    pondtui sheet 2026-10-12 2026-10-20 --as ics -o FILE
    pondtui sheet --units us

Phone numbers and the gate's code stand on the sheet only with --private.

# On the screen, in the sitter's mode
    pondtui --sitter "Tam Brook"
    pondtui --sitter "Tam Brook" status

NAME is a [[person]] of pond.toml. This opens the visit that is on, its tasks
numbered as on the sheet, with refill, level, note and an emergency page (s) with
this pond's own amounts, and nothing else. No safety step can be passed over. Each
entry bears the sitter's name. `pondtui sample --sitter "Tam Brook"` is there to
practise.

# The report
The sitter writes down the numbers of the tasks and what was read, and sends it as
it is: "2.1 ok 2.3 71 mm 2.4 no: tap frozen". Take it in with r on the Away screen,
or: `pondtui import report FILE`. Each answer becomes an entry once, with the
sitter's name.

# What a sitter must not do
Hose straight into the pond. Hose left running. Any bottle not on the sheet. The
filter under the tap. Pump off. New fish or plants. Outlet opened before the test
is clear. If in doubt feed nothing: a week or two is fine.
"""
PAGES = (
    Page("by-hand", "the journal with an editor", BY_HAND),
    Page("sharing", "several devices, git, a file synchroniser, backups", SHARING),
    Page("handing-over", "for a sitter: plan, sheet, report", HANDING),
)
