"""What never ends, is far too large, or waits for ever is refused soon and in little memory."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from pondtui.books.draft import NAME as DRAFT
from tests.cli.calls import POND, write_pond

MEMORY = 700 << 20  # bytes of address space; an interpreter with the program in it has 300
SECONDS = 10  # of the processor, for all calls of one child together
GIGABYTE = 1 << 30
CHILD = """
import io, json, resource, sys
from pondtui.cli.main import main
resource.setrlimit(resource.RLIMIT_AS, (int(sys.argv[1]),) * 2)
resource.setrlimit(resource.RLIMIT_CPU, (int(sys.argv[2]),) * 2)
told = []
for words in json.loads(sys.argv[3]):
    out, err = io.StringIO(), io.StringIO()
    told.append([main(words, out, err), out.getvalue()[-2000:], err.getvalue()])
print(json.dumps(told))
"""
LEVEL = "2026-08-14 10:00:00+02:00 | level | reading=62 mm |\n"


def ask(pond: Path, *calls: tuple[str, ...]) -> list[tuple[int, str, str]]:
    """What each call in a child of little memory and time left: code, output, errors."""
    words = [sys.executable, "-c", CHILD, str(MEMORY), str(SECONDS), json.dumps(calls)]
    environ = os.environ | {"PONDTUI_POND": str(pond), "PONDTUI_NOW": "2026-08-14 18:20:00+02:00"}
    done = subprocess.run(words, capture_output=True, text=True, timeout=90, env=environ)
    assert done.returncode == 0, done.stderr
    return [(code, out, err) for code, out, err in json.loads(done.stdout)]


def device(path: Path) -> None:
    path.symlink_to("/dev/zero")


def pipe(path: Path) -> None:
    os.mkfifo(path)


def giant(path: Path) -> None:
    with path.open("wb") as file:
        file.truncate(GIGABYTE)


def giant_text(path: Path) -> None:
    """Sparse, and yet it begins as it should."""
    path.write_text("Date,Tmin [degC]\n2026-06-01,3\n" if path.suffix == ".csv" else "# x\n")
    os.truncate(path, GIGABYTE)


ENDLESS = (device, pipe, giant, giant_text)


@pytest.mark.parametrize("make", ENDLESS, ids=lambda make: make.__name__)
def test_a_file_that_is_named_is_refused(tmp_path: Path, make: Callable[[Path], None]) -> None:
    pond = write_pond(tmp_path / "pond", desk=LEVEL)
    name = str(tmp_path / "given.csv")
    make(Path(name))
    calls = [("import", what, name, "--yes") for what in ("weather", "log", "report")]
    calls += [("new", str(tmp_path / "other"), "--from", name)]
    for code, out, err in ask(pond, *calls):
        assert (code, out) == (3, "")
        assert err.count("\n") == 1
        assert name in err
    assert not (tmp_path / "other").exists()
    assert not (pond / "weather").exists()


@pytest.mark.parametrize("make", ENDLESS, ids=lambda make: make.__name__)
@pytest.mark.parametrize("name", ["pond.toml", "procedure.toml"])
def test_a_description_is_refused(tmp_path: Path, make: Callable[[Path], None], name: str) -> None:
    pond = write_pond(tmp_path / "pond", desk=LEVEL)
    (pond / name).unlink(missing_ok=True)
    make(pond / name)
    (code, out, _), (adds, _, _) = ask(pond, ("check",), ("add", "note", "-m", "x", "--dry-run"))
    assert code == 1
    assert name in out
    assert adds in (0, 3)


@pytest.mark.parametrize("make", ENDLESS, ids=lambda make: make.__name__)
def test_a_file_of_the_pond_is_left_out_and_named(
    tmp_path: Path, make: Callable[[Path], None]
) -> None:
    pond = write_pond(tmp_path / "pond", POND + '[weather]\nfiles = ["weather/*"]\n', desk=LEVEL)
    (pond / "weather").mkdir()
    (pond / "sheets").mkdir()
    for path in ("journal/2026-phone.txt", "weather/a.csv", "sheets/a.json"):
        make(pond / path)
    checked, status, report = ask(
        pond, ("check",), ("status", "--json"), ("import", "report", str(pond / "pond.toml"))
    )
    assert checked[0] == 1
    assert "journal/2026-phone.txt" in checked[1]
    assert status[0] == 0
    assert report[0] == 3
    assert "no sheet is kept" in report[2]


@pytest.mark.parametrize("make", ENDLESS, ids=lambda make: make.__name__)
def test_a_file_of_our_own_is_left_out(tmp_path: Path, make: Callable[[Path], None]) -> None:
    pond = write_pond(tmp_path / "pond", desk=LEVEL)
    home = Path(os.environ["XDG_CONFIG_HOME"]) / "pondtui"
    data = Path(os.environ["XDG_DATA_HOME"]) / "pondtui"
    (home / "themes").mkdir(parents=True)
    data.mkdir(parents=True)
    for path in (home / "settings.toml", home / "themes/own.toml", data / DRAFT, home / DRAFT):
        make(path)
    code, out, err = ask(pond, ("add", "note", "-m", "heron"))[0]
    assert code == 0
    assert "heron" in out
    assert "settings.toml" in err


HEAVY = {
    "100,000 keys": "".join(f"k{n} = 1\n" for n in range(100_000)),
    "as many keys as fit": "".join(f"{n:x}=1\n" for n in range(38_000)),
    "tables": "[[barrel]]\n" * 20_000,
    "a dotted key": ".".join(["a"] * 100_000) + " = 1\n",
    "dotted keys": ((".".join(["a"] * 4000) + " = 1\n") * 30),
    "dotted headers": ("[" + ".".join(["a"] * 4000) + "]\n") * 30,
    "lists": "x = " + "[" * 100_000,
    "lists that fit": "x = " + "[" * 4_000 + "]" * 4_000,
    "inline tables": "x = " + "{a=" * 2_900 + "1" + "}" * 2_900,
    "blanks": "x = [\n" + ("[" + " " * 8000 + "\n") * 30,
    "a long number": "x = " + "9" * 8_000,
    "a long hexadecimal number": "format = 0x" + "f" * 8_000,
    "unknown keys": "[pond]\n" + "".join(f"namee{n} = 1\n" for n in range(5_900)),
}


@pytest.mark.parametrize("name", ["pond.toml", "procedure.toml", "settings.toml"])
def test_heavy_toml_is_refused_or_read_in_time(tmp_path: Path, name: str) -> None:
    pond = write_pond(tmp_path / "pond", desk=LEVEL)
    home = Path(os.environ["XDG_CONFIG_HOME"]) / "pondtui"
    home.mkdir(parents=True)
    for what, text in HEAVY.items():
        (home if name.startswith("settings") else pond).joinpath(name).write_text(text)
        for code, out, err in ask(pond, ("check",), ("status",)):
            assert code in (0, 1, 3), (what, err)
            assert len(out) + len(err) < 100_000, what


def test_a_gigabyte_of_weather_in_small_files_is_capped_by_what_is_read(tmp_path: Path) -> None:
    pond = write_pond(tmp_path / "pond", POND + '[weather]\nfiles = ["weather/*"]\n', desk=LEVEL)
    (pond / "weather").mkdir()
    for number in range(30):
        giant_text(pond / f"weather/{number}.csv")
    assert ask(pond, ("check",))[0][0] in (0, 1)
