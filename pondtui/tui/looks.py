"""How the program looks here: its themes, the keeper's own, and whether signs are plain."""

from __future__ import annotations

from collections.abc import Mapping

from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter
from textual.theme import Theme

from pondtui.books.settings import Settings
from pondtui.clean import without_hidden
from pondtui.paths import config_dir, themes_dir
from pondtui.records import NamedTuple
from pondtui.tui import themes

OWN_THEMES = "themes"  # within the folder of the settings
_LOCALE = ("LC_ALL", "LC_CTYPE", "LANG")  # the first that is set counts
# Signs of the toolkit and of our texts, each one cell wide, and what stands for them.
_PLAIN = str.maketrans(
    "│┃─━┄╌┌┐└┘├┤┬┴┼╭╮╰╯▁▂▃▄▅▆▇█▔▎▊░▒▓…·•–—→←↑↓−×±°",
    "||----+++++++++++++____####-||:::.**--><^v-x~ ",
)


class Looks(NamedTuple):
    """What the app is dressed with."""

    themes: dict[str, Theme]
    theme: str
    plain: bool  # plain signs only
    faults: list[str]  # one sentence for each theme file that was skipped


def looks(settings: Settings, environ: Mapping[str, str]) -> Looks:
    """The looks that settings and terminal ask for."""
    found, problems = themes.load(themes_dir())
    own, bad = themes.load(config_dir() / OWN_THEMES)
    for name, theme in own.items():
        if name in found:
            problems.append(themes.taken(config_dir() / OWN_THEMES, name))
        else:
            found[name] = theme
    name = themes.choose(settings.theme or None, environ, found)
    faults = [str(problem) for problem in (*problems, *bad)]
    found[themes.TERMINAL] = themes.terminal_theme()
    return Looks(found, name, plain_signs(settings.ascii, environ), faults)


def first_looks(settings: Settings, environ: Mapping[str, str]) -> Looks:
    """What the first frame needs, the theme that it wears; `looks` finds the others as well."""
    name = themes.choose(settings.theme or None, environ)
    own = themes.terminal_theme() if name == themes.TERMINAL else None
    theme = own or themes.named(themes_dir(), name)
    if theme is None:
        return looks(settings, environ)
    return Looks({name: theme}, name, plain_signs(settings.ascii, environ), [])


def plain_signs(asked: bool, environ: Mapping[str, str]) -> bool:
    """Whether to draw with plain signs: PONDTUI_ASCII says it (1 or 0), the settings ask for it,
    or the locale is not UTF-8.

    Without any locale the terminal is taken to know UTF-8. Python itself sets LC_CTYPE to C.UTF-8
    where LANG is C: that one does not count.
    """
    wish = environ.get("PONDTUI_ASCII", "")
    if wish:
        return wish not in ("0", "no", "false")
    coerced = environ.get("LANG", "") in ("C", "POSIX") and environ.get("LC_CTYPE") == "C.UTF-8"
    names = ("LC_ALL", "LANG") if coerced else _LOCALE
    locale = next((environ[name] for name in names if environ.get(name)), "")
    return asked or (bool(locale) and "utf" not in locale.casefold())


class SeenSigns(LineFilter):
    """Paints nothing that a terminal obeys: a field shows what was pasted into it as it came."""

    def apply(
        self,
        segments: list[Segment],
        background: Color,  # noqa: ARG002 - the toolkit names it
    ) -> list[Segment]:
        """The same line, without signs that have no width and would turn others round."""
        return [
            segment
            if segment.control or segment.text.isascii()
            else Segment(without_hidden(segment.text), segment.style, segment.control)
            for segment in segments
        ]


class PlainSigns(LineFilter):
    """Turns every sign that a plain terminal may lack into one that all have."""

    def apply(
        self,
        segments: list[Segment],
        background: Color,  # noqa: ARG002 - the toolkit names it
    ) -> list[Segment]:
        """The same line with plain signs."""
        return [
            segment
            if segment.text.isascii()
            else Segment(plain(segment.text), segment.style, segment.control)
            for segment in segments
        ]


def plain(text: str) -> str:
    """A text with plain signs, as wide as it was; a keeper's own letters stay."""
    return text.translate(_PLAIN)
