"""Colour themes: read from TOML, checked before use; and the theme of the terminal's own colours.

A theme file has `name`, `dark`, the colours in `COLOURS`, and a table `[variables]` with the
colours in `OWN`. All else that the toolkit paints is derived from these, so that no pair of
colours goes unchecked.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, MutableMapping
from pathlib import Path
from typing import Any

from textual.color import Color, ColorParseError
from textual.theme import Theme

from pondtui.books.texts import read_bytes
from pondtui.books.tomltext import NoTomlError, parse_toml
from pondtui.clean import visible
from pondtui.errors import Problem
from pondtui.tui.colours import COLOURS, LEAST_CONTRAST, OWN, PAIRS, contrast

DEFAULT = "dusk"
TERMINAL = "terminal"
LARGEST_FILE = 64 * 1024


def load(folder: Path) -> tuple[dict[str, Theme], list[Problem]]:
    """The themes of a folder by name, and what is wrong with the files that were skipped."""
    themes: dict[str, Theme] = {}
    problems: list[Problem] = []
    for path in sorted(folder.glob("*.toml")):
        found = _read(path)
        if isinstance(found, Theme) and found.name in (*themes, TERMINAL):
            found = f'the name "{found.name}" is taken: give this theme another one'
        if isinstance(found, Theme):
            themes[found.name] = found
        else:
            message = visible(f"theme skipped, {found}")
            problems.append(Problem(visible(str(path)), 0, 0, message))
    return themes, problems


def named(folder: Path, name: str) -> Theme | None:
    """The theme of that name, where its own file in the folder has it and nothing is wrong."""
    found = next((_read(path) for path in folder.glob("*.toml") if path.stem == name), None)
    return found if isinstance(found, Theme) and found.name == name else None


def taken(folder: Path, name: str) -> Problem:
    """What is said of a keeper's theme that has the name of one that ships."""
    message = f'theme skipped, the name "{name}" is taken: give this theme another one'
    return Problem(str(folder / f"{name}.toml"), 0, 0, message)


def _read(path: Path) -> Theme | str:
    """The theme in a file, or what is wrong with it."""
    try:
        data = read_bytes(path, LARGEST_FILE)
        if len(data) > LARGEST_FILE:
            return "it is larger than 64 KiB: a theme is a short list of colours"
        table = parse_toml(data.decode("utf-8"))
    except OSError as error:
        return f"it cannot be read ({error.strerror}): check the file and its permissions"
    except UnicodeDecodeError:
        return "it is not UTF-8 text: save it again as UTF-8"
    except NoTomlError as error:
        return f"{error} (line {error.line})" if error.line else str(error)
    return _checked(table)


def _checked(table: Mapping[str, Any]) -> Theme | str:
    name, dark, own = table.get("name"), table.get("dark"), table.get("variables", {})
    if not isinstance(name, str) or not re.fullmatch("[a-z][a-z0-9-]*", name):
        return 'it has no name of small letters: write name = "..." at the top'
    if not isinstance(dark, bool):
        return "it does not say dark = true or dark = false"
    if not isinstance(own, dict):
        return "its own colours must stand in a table [variables]"
    unknown = sorted(set(table) - {"name", "dark", "variables", *COLOURS} | (set(own) - set(OWN)))
    if unknown:
        return f'"{unknown[0]}" is no colour of a theme: take it out, or mend its spelling or place'
    values = {key: table.get(key) for key in COLOURS} | {key: own.get(key) for key in OWN}
    colours: dict[str, Color] = {}
    for key, value in values.items():
        colour = _colour(value)
        if colour is None:
            return _no_colour(key, value)
        colours[key] = colour
    return _faint(colours) or _theme(name, dark, {key: c.hex for key, c in colours.items()})


def _no_colour(key: str, value: object) -> str:
    if value is None:
        return f'the colour {key} is missing: write {key} = "#rrggbb"'
    return f'{key} = "{value}" is no solid colour: write it as "#rrggbb"'


def _colour(value: object) -> Color | None:
    """A solid colour that is the same on every terminal, or None."""
    if not isinstance(value, str):
        return None
    try:
        colour = Color.parse(value)
    except ColorParseError:
        return None
    return colour if colour.a == 1 and colour.ansi is None else None


def _faint(colours: Mapping[str, Color]) -> str:
    for text, ground in PAIRS:
        ratio = contrast(colours[text], colours[ground])
        if ratio < LEAST_CONTRAST:
            return (
                f"{text} on {ground} has a contrast of {ratio:.1f}, less than {LEAST_CONTRAST}: "
                "make one of them lighter or darker"
            )
    return ""


def _theme(name: str, dark: bool, words: Mapping[str, str]) -> Theme:
    return Theme(
        name=name,
        dark=dark,
        primary=words["primary"],
        secondary=words["secondary"],
        accent=words["accent"],
        foreground=words["foreground"],
        background=words["background"],
        surface=words["surface"],
        panel=words["panel"],
        success=words["success"],
        warning=words["warning"],
        error=words["error"],
        variables=_variables(words),
    )


def _variables(words: Mapping[str, str]) -> dict[str, str]:
    """Our own colours, and solid ones for what the toolkit would mix too faint."""
    derived = {
        "text": "foreground",
        "text-muted": "quiet",
        "text-disabled": "quiet",
        "foreground-muted": "quiet",
        "foreground-disabled": "quiet",
        "block-cursor-background": "primary",
        "block-cursor-foreground": "background",
        "block-cursor-blurred-background": "panel",
        "block-cursor-blurred-foreground": "foreground",
        "input-selection-background": "water-fill",
        "input-selection-foreground": "foreground",
        "button-color-foreground": "background",
        "border": "primary",
        "border-blurred": "quiet",
        "footer-background": "panel",
        "footer-foreground": "foreground",
        "footer-description-foreground": "foreground",
        "footer-key-foreground": "accent",
        "link-color": "primary",
        "link-color-hover": "background",
    }
    states = ("primary", "secondary", "accent", "success", "warning", "error")
    derived |= {f"text-{state}": state for state in states} | {key: key for key in OWN}
    return {key: words[colour] for key, colour in derived.items()}


def terminal_theme() -> Theme:
    """The terminal's own colours: for NO_COLOR, for 16 colours, and for who prefers them.

    What is chosen is underlined as well: the toolkit forgets `reverse`, and without colour a
    coloured bar is no bar.
    """
    plain = "ansi_default"
    return Theme(
        name=TERMINAL,
        ansi=True,
        primary="ansi_cyan",
        secondary=plain,
        accent="ansi_magenta",
        success="ansi_green",
        warning="ansi_yellow",
        error="ansi_red",
        foreground=plain,
        background=plain,
        surface=plain,
        panel=plain,
        boost=plain,
        variables={
            **dict.fromkeys(_PLAIN_IN_TERMINAL, plain),
            "water": "ansi_cyan",
            "earth": "ansi_yellow",
            "plant": "ansi_green",
            "mark": "ansi_magenta",
            "block-cursor-foreground": "ansi_black",
            "block-cursor-background": "ansi_cyan",
            "block-cursor-text-style": "bold underline",
            "block-cursor-blurred-text-style": "underline",
            "input-cursor-text-style": "bold underline",
            "input-selection-foreground": "ansi_black",
            "input-selection-background": "ansi_cyan",
            "border": "ansi_cyan",
            "footer-key-foreground": "ansi_magenta",
        },
    )


_PLAIN_IN_TERMINAL = (
    "ansi-background",
    "ansi-foreground",
    "surface-active",
    "water-fill",
    "quiet",
    "link-color",
    "link-color-hover",
    "link-background-hover",
    "block-cursor-blurred-foreground",
    "block-cursor-blurred-background",
    "input-cursor-foreground",
    "input-cursor-background",
    "text-muted",
    "text-disabled",
    "foreground-muted",
    "foreground-disabled",
    "border-blurred",
    "scrollbar-background",
    "scrollbar-background-hover",
    "scrollbar-background-active",
)


def drop_empty_no_color(environ: MutableMapping[str, str]) -> None:
    """Take an empty NO_COLOR away before the app is made: the toolkit would count it as set."""
    if environ.get("NO_COLOR") == "":
        del environ["NO_COLOR"]


def choose(
    settings_theme: str | None, environ: Mapping[str, str], known: Collection[str] = ()
) -> str:
    """The name of the theme to start with.

    The terminal's own colours where colour is not wanted (NO_COLOR) or there are only 16; else
    what the settings say; else, and for a name that is not among `known`, the dark one.
    """
    if environ.get("NO_COLOR") or not _many_colours(environ):
        return TERMINAL
    if settings_theme == TERMINAL or (settings_theme and (not known or settings_theme in known)):
        return settings_theme
    return DEFAULT if not known or DEFAULT in known else TERMINAL


def _many_colours(environ: Mapping[str, str]) -> bool:
    """Whether the terminal says that it has more than 16 colours."""
    if environ.get("COLORTERM", "").strip().lower() in ("truecolor", "24bit"):
        return True
    return environ.get("TERM", "").strip().lower().endswith(("256color", "direct", "kitty"))
