"""No text of a keeper is taken for markup: neither by a rule over the source, nor on the screen."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
from textual.widgets import Input

import pondtui.tui
from pondtui.errors import FileError
from tests.tui.ponds import (
    FILLED,
    LEVELS,
    app_on,
    press,
    screen_text,
    settle,
    type_into,
    write_pond,
)

FILES = sorted(Path(pondtui.tui.__file__).parent.glob("*.py"))
# what shows its first argument as markup unless it is content already, or told not to
SINKS = {"Static", "Label", "Button", "Checkbox", "RadioButton", "Collapsible", "TabPane", "Option"}
PLAIN_MAKERS = {"paint", "Content"}
MARKED_ATTRIBUTES = {"tooltip", "border_title", "border_subtitle"}
NASTY = "[red]x[/red] [/path] [@click=app.quit]out[/] [b"


def offenders(source: str) -> list[str]:
    """The places where a string could be taken for markup."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call):
            name = _name(node.func)
            told = any(k.arg == "markup" and _is_false(k.value) for k in node.keywords)
            if name == "notify" and not told:
                found.append(f"line {node.lineno}: notify without markup=False")
            if name in SINKS and not told and node.args and not _plain(node.args[0]):
                found.append(f"line {node.lineno}: {name} of a text that may hold markup")
            if name == "from_markup":
                found.append(f"line {node.lineno}: from_markup")
        if isinstance(node, ast.Attribute) and node.attr in MARKED_ATTRIBUTES:
            found.append(f"line {node.lineno}: {node.attr} is shown as markup")
    return found


def _name(func: ast.expr) -> str:
    return func.attr if isinstance(func, ast.Attribute) else getattr(func, "id", "")


def _is_false(value: ast.expr) -> bool:
    return isinstance(value, ast.Constant) and value.value is False


def _plain(value: ast.expr) -> bool:
    """A literal of ours without brackets, or something made as content."""
    if isinstance(value, ast.Constant):
        return "[" not in str(value.value)
    root = value.func if isinstance(value, ast.Call) else None
    while isinstance(root, ast.Attribute):
        root = root.value
    return isinstance(root, ast.Name) and root.id in PLAIN_MAKERS


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.name)
def test_every_text_is_shown_as_plain_content(path: Path) -> None:
    assert offenders(path.read_text("utf-8")) == []


@pytest.mark.parametrize(
    "source",
    [
        "Static(text)",
        "Label(f'{name}')",
        "Option(row.text, id=row.id)",
        "self.notify(sentence)",
        "widget.tooltip = note",
        "Content.from_markup(note)",
        "Static('[b]ours[/b]')",
    ],
)
def test_the_rule_sees_an_offender(source: str) -> None:
    assert len(offenders(source)) == 1


@pytest.mark.parametrize(
    "source",
    [
        "Static(paint.words(text))",
        "Static(text, markup=False)",
        "Option(Content.styled(text))",
        "self.notify(sentence, markup=False)",
        "Label('level')",
    ],
)
def test_the_rule_lets_plain_content_be(source: str) -> None:
    assert offenders(source) == []


async def test_brackets_in_notes_names_and_errors_stay_brackets(tmp_path: Path) -> None:
    desk = LEVELS + FILLED
    desk += f"2026-08-14 18:00:00+02:00 | bypass  | step=dose; batch=gate-260814 | {NASTY}\n"
    desk += f"2026-08-14 18:01:00+02:00 | note    | | {NASTY}\n{NASTY}\n"
    app = app_on(write_pond(tmp_path / "pond", desk=desk))
    async with app.run_test(size=(150, 40), notifications=True, tooltips=True) as pilot:
        await settle(pilot)
        assert any("dose was passed over: [red]x[/red]" in line for line in screen_text(app))
        await press(pilot, "question_mark")
        assert "[/path]" in "\n".join(screen_text(app))
        await press(pilot, "q", "j")
        assert any(NASTY in line for line in screen_text(app))
        for key in ("enter", "p"):
            await press(pilot, key)
            assert "[@click=app.quit]out" in "\n".join(screen_text(app))
            await press(pilot, "q")


async def test_brackets_typed_into_forms_and_failures_stay_brackets(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = app_on(write_pond(tmp_path / "pond"))

    def refuse(*_args: object, **_kwargs: object) -> None:
        raise FileError(f"not saved in {NASTY}")

    async with app.run_test(size=(120, 30), notifications=True, tooltips=True) as pilot:
        await press(pilot, "t")
        await type_into(pilot, "more", NASTY)
        await type_into(pilot, "where", NASTY)
        await type_into(pilot, "note", NASTY)
        assert NASTY in "\n".join(screen_text(app))
        app.screen.query_one("#more", Input).value = ""
        app.screen.query_one("#where", Input).value = "pond"
        app.screen.query_one("#temp", Input).value = "18"
        monkeypatch.setattr(app.session, "write", refuse)
        await press(pilot, "enter")
        assert f"not saved in {NASTY}" in "\n".join(screen_text(app))
        app.notify(NASTY, markup=False)
        await settle(pilot)
        assert "[@click=app.quit]out" in "\n".join(screen_text(app))
