"""What each screen is for, in a few sentences for its help."""

from __future__ import annotations

ROOMS: dict[str, tuple[str, ...]] = {
    "today": (
        "One glance: how high the water is and when it was read, what it loses a day, which mark "
        "comes next, what stands in each barrel and whether it is safe to release.",
        "Enter on a line opens what stands behind it. What is wrong stands on top.",
    ),
    "visits": (
        "The visit that is on, its tasks numbered as on the care sheet. Enter or Space ticks the "
        "task or asks for its number; x says why it was not done. Left and Right look at others.",
        "s is the emergency page. In doubt: open nothing, feed nothing, ring.",
    ),
    "emergency": (
        "Whom to ring, and what to do: the digit in front of a case opens it. The amounts are this "
        "pond's own.",
    ),
    "refill": (
        "One barrel, step by step: before you start, fill, treat, release, close up. Leave it at "
        "any time: it goes on at the same step, on every device.",
    ),
    "chores": (
        "What is late, due, done today and to come. Space ticks, x skips with a reason, o ticks at "
        "another time, Enter shows when it was done. Below stand the supplies: Enter counts one.",
    ),
    "tests": (
        "The latest water test of each kind: ok, watch or act, its sound range, its trend, what to "
        "do. Un-ionised ammonia, oxygen saturation and the like are worked out, not asked.",
        "A reading in act is measured again before anything is done, unless fish show distress.",
    ),
    "alarms": (
        "What is wrong, what must be acted on first. Enter shows since when and what to do. What "
        "may wait can be put off with a reason, and comes back on its day.",
    ),
    "water": (
        "Where the pond's water came from this season and where it went, each term with how sure "
        "it is. What nothing explains stands as such, and is called out when the errors do not "
        "allow it.",
        "c goes on to the charts: level with marks, rain and refills; loss measured and by "
        "weather; months. Left and Right read values, z shows one month, t the numbers.",
    ),
    "bucket": (
        "Is it a leak? A bucket of pond water stands in the pond: it loses to the weather alone. s "
        "begins, r writes both levels down, as often as you like; after three days the verdict "
        "goes into the journal.",
    ),
    "away": (
        "How the level falls with no help, and the fewest visits that keep it above the mark that "
        "warns, also when one of them is missed. d asks for the days and who comes.",
        "s shows the care sheet, p writes it into sheets/ as text and as a page for a telephone, r "
        "takes the sitter's report in: pasted, or the name of its file.",
    ),
    "journal": (
        "Every entry, newest first. Type words to search. A wrong entry is struck and written "
        "again: its line stays, marked as struck.",
    ),
    "worksheets": (
        "Every calculation of the program on its own, with its formula, limits and sources.",
    ),
    "worksheet": (
        "Type amounts with their unit (150 L, 40 US gal, 2 7/16 in, 0.6 mg/L); the result follows "
        "as you type. Go down to the results with Tab; there c copies the chosen one into a note.",
    ),
    "setup": (
        "All that pond.toml and procedure.toml hold. Enter opens a table as a form, a adds one, c "
        "copies one (for a change from a day on: the copy gets its own `from`), x takes one out, i "
        "and k move it, s writes, f forgets what is not written.",
        "Before it is written the whole is read as at the start: what is wrong stands at its "
        "field, and nothing is written until it is right. Comments, and what the program does "
        "not know, stay in the file; the file as it was stays as pond.toml.before.",
        "Changes in Setup that you have not written outlive a killed program: Today says so, and "
        "Setup asks whether to take them up.",
        "The same by hand, for a screen reader: change pond.toml in any editor, then run `pondtui "
        "check`, which tells each mistake with its line; `pondtui help pond-toml` lists every key.",
    ),
    "setup-form": (
        "One table. Enter, Tab and the arrows go on; Space turns the words of a choice; ? measures "
        "what the field wants, or says more about it. Esc goes back to the list: all that was "
        "typed stays, also with mistakes in it, and is written there.",
    ),
}
