"""The program finds its own folders in a wheel and in a checkout, and nobody else's."""

from __future__ import annotations

from pathlib import Path

import pytest

from pondtui import paths
from pondtui.errors import FileError

OURS = '[project]\nname = "pondtui"\n'


@pytest.fixture
def package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "lib" / "pondtui"
    folder.mkdir(parents=True)
    monkeypatch.setattr(paths, "_PACKAGE", folder)
    return folder


def test_the_sample_inside_the_package_goes_first(package: Path) -> None:
    for place in (package, package.parent):
        (place / "sample").mkdir()
    (package.parent / "pyproject.toml").write_text(OURS)
    assert paths.sample_source() == package / "sample"


def test_a_checkout_has_its_themes_beside_the_package(package: Path) -> None:
    (package.parent / "themes").mkdir()
    (package.parent / "pyproject.toml").write_text(OURS)
    assert paths.themes_dir() == package.parent / "themes"


@pytest.mark.parametrize("text", [None, '[project]\nname = "other"\n', "not [ toml", "project = 3"])
def test_a_themes_folder_beside_something_else_is_not_ours(package: Path, text: str | None) -> None:
    (package.parent / "themes").mkdir()
    if text is not None:
        (package.parent / "pyproject.toml").write_text(text)
    with pytest.raises(FileError, match="install pondtui again"):
        paths.themes_dir()


def test_nothing_is_looked_for_two_levels_up(package: Path) -> None:
    (package.parents[1] / "sample").mkdir()
    (package.parents[1] / "pyproject.toml").write_text(OURS)
    with pytest.raises(FileError):
        paths.sample_source()


def test_settings_and_data_follow_the_environment(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    assert paths.config_dir() == tmp_path / "settings" / "pondtui"
    assert paths.data_dir() == tmp_path / "data" / "pondtui"
