"""Every theme can be read in sun and at dusk, and a bad theme file is named and left out."""

from __future__ import annotations

import math
from itertools import combinations
from pathlib import Path

import pytest
from rich.style import Style
from textual.app import App, ComposeResult
from textual.color import Color
from textual.geometry import Region
from textual.theme import Theme
from textual.widget import Widget
from textual.widgets import Input, Label, OptionList

from pondtui.paths import themes_dir
from pondtui.tui import colours, themes
from pondtui.views import drawings

NAMES = ("dusk", "noon", "stark", "stark-light", "sundial")
STATES = ("success", "warning", "error")

# Full loss of one kind of cone, for linear RGB. Source: Machado, Oliveira and Fernandes (2009),
# "A Physiologically-based Model for Simulation of Color Vision Deficiency", severity 1.0
# (from memory).
MACHADO = {
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritanopia": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
Triple = tuple[float, float, float]


def linear(colour: str) -> Triple:
    """Linear sRGB of a colour such as "#8fd694" (IEC 61966-2-1, from memory)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return red, green, blue


def times(matrix: tuple[Triple, Triple, Triple], colour: Triple) -> Triple:
    first, second, third = (
        min(1.0, max(0.0, sum(m * c for m, c in zip(row, colour, strict=True)))) for row in matrix
    )
    return first, second, third


def lab(colour: Triple) -> Triple:
    """CIE 1976 L*a*b* under D65 from linear sRGB (CIE 15, from memory)."""
    to_xyz = (
        (0.4124564, 0.3575761, 0.1804375),
        (0.2126729, 0.7151522, 0.0721750),
        (0.0193339, 0.1191920, 0.9503041),
    )
    white = (0.95047, 1.0, 1.08883)
    xyz = [sum(m * c for m, c in zip(row, colour, strict=True)) for row in to_xyz]
    x, y, z = (
        t ** (1 / 3) if t > 216 / 24389 else (24389 / 27 * t + 16) / 116
        for t in (part / w for part, w in zip(xyz, white, strict=True))
    )
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def apart(one: Triple, other: Triple) -> float:
    """CIE 1976 colour difference; about 2.3 is just seen (from memory)."""
    return math.dist(lab(one), lab(other))


def contrast(one: str, other: str) -> float:
    """WCAG 2.1 contrast ratio, worked out here anew."""
    weights = (0.2126, 0.7152, 0.0722)
    low, high = sorted(
        sum(w * c for w, c in zip(weights, linear(colour), strict=True)) for colour in (one, other)
    )
    return (high + 0.05) / (low + 0.05)


def shipped() -> dict[str, Theme]:
    found, problems = themes.load(themes_dir())
    assert problems == []
    return found


def values(theme: Theme) -> dict[str, str]:
    """Every variable as the screens get it."""
    return {**theme.to_color_system().generate(), **theme.variables}


def write(folder: Path, file: str, **changes: str) -> Path:
    """A theme like "dusk" with some lines changed; an empty text takes the line out."""
    lines = []
    for line in (themes_dir() / "dusk.toml").read_text(encoding="utf-8").splitlines():
        key = line.split(" = ")[0]
        if key == "name":
            line = f'name = "{changes.get("name", Path(file).stem)}"'
        elif key in changes:
            line = f"{key} = {changes[key]}" if changes[key] else ""
        lines.append(line)
    path = folder / file
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def test_five_themes_ship_without_a_problem() -> None:
    assert tuple(sorted(shipped())) == NAMES
    assert {name: theme.dark for name, theme in shipped().items()} == {
        "dusk": True,
        "noon": False,
        "stark": True,
        "stark-light": False,
        "sundial": True,
    }


@pytest.mark.parametrize("name", NAMES)
def test_every_text_can_be_read_on_every_ground_it_stands_on(name: str) -> None:
    painted = values(shipped()[name])
    faint = {
        (text, ground): round(contrast(painted[text], painted[ground]), 2)
        for text, ground in colours.PAIRS
        if contrast(painted[text], painted[ground]) < 4.5
    }
    assert faint == {}


@pytest.mark.parametrize("name", NAMES)
def test_what_the_toolkit_paints_by_itself_can_be_read_too(name: str) -> None:
    painted = values(shipped()[name])
    pairs = [
        (f"{bar}-foreground", f"{bar}-background")
        for bar in (
            "block-cursor",
            "block-cursor-blurred",
            "footer",
            "input-cursor",
            "input-selection",
        )
    ]
    pairs += [("footer-key-foreground", "footer-background")]
    pairs += [("footer-description-foreground", "footer-background")]
    pairs += [("button-color-foreground", state) for state in ("primary", *STATES)]
    texts = ("text", "text-muted", "text-disabled", "foreground-muted", "link-color")
    states = tuple(f"text-{state}" for state in ("primary", "secondary", "accent", *STATES))
    pairs += [(text, ground) for text in texts + states for ground in ("background", "panel")]
    faint = {pair for pair in pairs if contrast(painted[pair[0]], painted[pair[1]]) < 4.5}
    assert faint == set()


@pytest.mark.parametrize("name", ["stark", "stark-light"])
def test_the_high_contrast_themes_keep_seven_to_one(name: str) -> None:
    painted = values(shipped()[name])
    assert min(contrast(painted[t], painted[g]) for t, g in colours.PAIRS) >= 7


def test_the_theme_for_sun_has_dark_words_on_a_light_ground() -> None:
    painted = values(shipped()["noon"])
    assert contrast(painted["foreground"], painted["background"]) >= 15
    assert sum(linear(painted["background"])) > 2.5


@pytest.mark.parametrize("sight", MACHADO)
def test_greys_stay_grey_under_each_simulated_sight(sight: str) -> None:
    assert apart(times(MACHADO[sight], (0.4, 0.4, 0.4)), (0.4, 0.4, 0.4)) < 0.1


@pytest.mark.parametrize("sight", MACHADO)
@pytest.mark.parametrize("name", NAMES)
def test_states_are_told_apart_by_every_kind_of_sight(name: str, sight: str) -> None:
    painted = values(shipped()[name])
    least = 30 if name == "sundial" else 18
    for one, other in combinations(STATES, 2):
        seen = [times(MACHADO[sight], linear(painted[state])) for state in (one, other)]
        assert apart(*seen) >= least, (one, other)


def test_the_states_of_the_safe_theme_differ_in_lightness_alone() -> None:
    painted = values(shipped()["sundial"])
    lights = sorted(lab(linear(painted[state]))[0] for state in STATES)
    assert lights[1] - lights[0] >= 3
    assert lights[2] - lights[1] >= 20


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"primary": '"no colour"'}, 'primary = "no colour" is no solid colour'),
        ({"primary": '"ansi_blue"'}, 'primary = "ansi_blue" is no solid colour'),
        ({"primary": '"#ffffff80"'}, 'primary = "#ffffff80" is no solid colour'),
        ({"warning": ""}, "the colour warning is missing"),
        ({"water": ""}, "the colour water is missing"),
        ({"mark": "7"}, 'mark = "7" is no solid colour'),
        ({"error": '"#802020"'}, "error on background has a contrast of"),
        ({"water-fill": '"#8fd3ff"'}, "on water-fill has a contrast of"),
        ({"dark": '"yes"'}, "does not say dark = true"),
        ({"name": "Two Words"}, "no name of small letters"),
        ({"name": "terminal"}, 'the name "terminal" is taken'),
        ({"water": '"#8fd3ff"\nwatre = "#8fd3ff"'}, '"watre" is no colour of a theme'),
        ({"dark": "true = ["}, "not TOML"),
        ({"dark": "[" * 2000}, "too deep"),
    ],
)
def test_a_bad_theme_file_is_named_and_skipped_with_one_sentence(
    tmp_path: Path, changes: dict[str, str], words: str
) -> None:
    write(tmp_path, "good.toml")
    bad = write(tmp_path, "torn.toml", **changes)
    found, problems = themes.load(tmp_path)
    assert list(found) == ["good"]
    [problem] = problems
    assert problem.path == str(bad)
    assert problem.message.startswith("theme skipped, ")
    assert words in problem.message
    assert "\n" not in problem.message


def test_a_theme_file_that_is_not_text_or_too_large_is_skipped(tmp_path: Path) -> None:
    (tmp_path / "bytes.toml").write_bytes(b"name = '\xff'")
    (tmp_path / "huge.toml").write_text("#" * 100_000, encoding="utf-8")
    (tmp_path / "folder.toml").mkdir()
    found, problems = themes.load(tmp_path)
    assert found == {}
    assert [Path(p.path).name for p in problems] == ["bytes.toml", "folder.toml", "huge.toml"]


def test_the_second_theme_of_one_name_is_skipped(tmp_path: Path) -> None:
    write(tmp_path, "a.toml", name="pond")
    second = write(tmp_path, "b.toml", name="pond")
    found, problems = themes.load(tmp_path)
    assert list(found) == ["pond"]
    assert [p.path for p in problems] == [str(second)]


def test_a_folder_that_is_not_there_holds_no_themes(tmp_path: Path) -> None:
    assert themes.load(tmp_path / "none") == ({}, [])


FULL = {"TERM": "xterm-256color", "COLORTERM": "truecolor"}


@pytest.mark.parametrize(
    ("wanted", "environ", "chosen"),
    [
        (None, FULL, "dusk"),
        ("noon", FULL, "noon"),
        ("gone", FULL, "dusk"),
        ("terminal", FULL, "terminal"),
        ("noon", {**FULL, "NO_COLOR": "1"}, "terminal"),
        ("noon", {**FULL, "NO_COLOR": ""}, "noon"),
        ("noon", {"TERM": "screen-256color"}, "noon"),
        ("noon", {"TERM": "linux"}, "terminal"),
        ("noon", {"TERM": "xterm"}, "terminal"),
        (None, {}, "terminal"),
    ],
)
def test_the_theme_follows_the_terminal_then_the_settings(
    wanted: str | None, environ: dict[str, str], chosen: str
) -> None:
    assert themes.choose(wanted, environ, NAMES) == chosen


def test_an_empty_no_color_is_dropped_and_a_full_one_kept() -> None:
    empty, full = {"NO_COLOR": ""}, {"NO_COLOR": "1"}
    themes.drop_empty_no_color(empty)
    themes.drop_empty_no_color(full)
    assert (empty, full) == ({}, {"NO_COLOR": "1"})


def test_the_terminals_theme_never_puts_a_colour_on_itself() -> None:
    painted = values(themes.terminal_theme())
    for text, ground in colours.PAIRS:
        if text != "background":
            assert painted[ground] in ("ansi_default", "transparent"), (text, ground)
            assert painted[text] != "ansi_black"


def test_every_role_is_painted_by_every_theme() -> None:
    for theme in (*shipped().values(), themes.terminal_theme()):
        painted = values(theme)
        for text, ground in colours.ROLES.values():
            assert Color.parse(painted[text])
            assert not ground or Color.parse(painted[ground])


def test_every_role_that_a_drawing_uses_has_its_paint() -> None:
    marks = [(role, 20.0 * n, role) for n, role in enumerate(("spill", "warn", "danger", "seep"))]
    used = {
        span.role
        for level in (None, 10.0, 90.0)
        for row in drawings.pond_section(
            60,
            16,
            level=level,
            marks=marks,
            higher_is_smaller=True,
            floor_reading=100,
            top_reading=0,
        )
        for span in row
    }
    used |= {
        span.role
        for water in drawings.WATERS
        for depth in (0.0, 0.6, 1.0)
        for row in drawings.barrel(
            50,
            16,
            shape="lying",
            depth_fraction=depth,
            outlet_fraction=0.2,
            full_fraction=0.9,
            water=water,
        )
        for span in row
    }
    bar = drawings.gauge_bar(20, 3, low=0, high=9, sound=(2, 4))
    used |= {span.role for span in (*drawings.progress(20, 0.4), *bar)}
    assert used <= set(colours.ROLES)
    assert {"surface", "water", "heel", "danger-wet", "mark-wet", "plant"} <= used


class Small(App[None]):
    """A label, a list and a field."""

    def compose(self) -> ComposeResult:
        yield Label("level")
        yield OptionList("one", "two")
        yield Input("five", select_on_focus=False)


def painted_words(*widgets: Widget) -> dict[str, Style]:
    """The style of each piece of text that the widgets paint."""
    return {
        segment.text.strip(): segment.style
        for widget in widgets
        for strip in widget.render_lines(Region(0, 0, *widget.outer_size))
        for segment in strip
        if segment.style and segment.text.strip()
    }


def test_the_terminals_theme_leaves_no_variable_of_the_toolkit_unset() -> None:
    assert set(values(shipped()["dusk"])) <= set(values(themes.terminal_theme()))


@pytest.mark.parametrize("no_color", [False, True])
async def test_the_terminals_theme_shows_what_is_chosen_without_any_colour(
    monkeypatch: pytest.MonkeyPatch, no_color: bool
) -> None:
    if no_color:
        monkeypatch.setenv("NO_COLOR", "1")
    app = Small(ansi_color=True)
    app.register_theme(themes.terminal_theme())
    app.theme = themes.TERMINAL
    async with app.run_test(size=(30, 16)) as pilot:
        label, options, field = (
            app.query_one(Label),
            app.query_one(OptionList),
            app.query_one(Input),
        )
        options.focus()
        options.highlighted = 0
        await pilot.pause()
        seen = painted_words(label, options)
        field.focus()
        field.cursor_position = 1
        await pilot.pause()
        typed = painted_words(field)
    assert [word for word in ("level", "one", "two") if seen[word].underline] == ["one"]
    assert [word for word, style in typed.items() if style.underline] == ["i"]
    if no_color:
        styles = [*seen.values(), *typed.values()]
        colours_left = [c for s in styles for c in (s.color, s.bgcolor) if c and not c.is_default]
        assert colours_left == []
