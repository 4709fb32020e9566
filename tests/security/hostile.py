"""A pond into which every payload was put wherever a keeper, or somebody else, can put a text."""

from __future__ import annotations

from itertools import cycle
from pathlib import Path

import tomli_w

from tests.security.payloads import ALL
from tests.tui.ponds import FILLED, LEVELS, POND

TOML = [text for text in ALL if not any("\ud800" <= sign <= "\udfff" for sign in text)]
NAMES = [text for text in TOML if not {";", "|", "="} & set(text)]
BYTES = "surrogatepass"


def description() -> str:
    """A pond.toml that says all of them: names, places, people, a house, unknown keys."""
    data = "\n".join((POND.replace('"Alder Yard"', _quoted(f"Yard {NAMES[0]}")), _more()))
    return data + "".join(f"[[mark]]\n{_quoted(text)} = {_quoted(text)}\n" for text in TOML[:40])


def _more() -> str:
    names, texts = cycle(NAMES), cycle(TOML)
    house = {
        "gate": next(texts), "gate_code": next(texts), "breaker": next(texts),
        "stop_cock": next(texts), "normal": next(texts), "food": next(texts), "dog": next(texts),
        "hours": next(texts), "late": next(texts), "emergency_number": next(texts),
    }  # fmt: skip
    rest = {
        "chore": [{"name": f"c{n} {text}", "every": "1 d"} for n, text in enumerate(NAMES)],
        "supply": [{"name": f"s{n} {next(names)}", "place": next(texts)} for n in range(20)],
        "person": [
            {"name": f"p{n} {next(names)}", "role": "sitter", "phone": next(texts)}
            for n in range(10)
        ],
        "house": house,
        "weather": {"files": ["weather/*.csv", "weather/\x1b[6666m.csv"]},
    }
    return tomli_w.dumps(rest)


def _quoted(text: str) -> str:
    return tomli_w.dumps({"x": text}).removeprefix("x = ").rstrip("\n")


def journal() -> bytes:
    """Notes, fields, kinds, stamps and whole lines."""
    lines = [LEVELS + FILLED]
    for n, text in enumerate(text.replace("\n", " ") for text in ALL):
        stamp = f"2026-08-14 {8 + n // 60:02}:{n % 60:02}:00+02:00"
        lines.append(f"{stamp} | note | by=AB | n{n} {text}\n")
        if not {";", "|", "="} & set(text):
            lines.append(f"{stamp} | chore | name=f{n} {text}; by={text} |\n")
            lines.append(f"{stamp} | count | kind={text} fish; number=3 |\n")
            lines.append(f"{stamp} | {text} | x=1 |\n")
        lines.append(f"{text}\n{stamp} | level | {text}=1; reading={text} | {text}\n")
    return "".join(lines).encode("utf-8", BYTES) + b"\xff\xfe\x1b[6666m \x9b6666m\n"


def write(folder: Path) -> Path:
    """The pond's folder; names of files are hostile too."""
    (folder / "journal").mkdir(parents=True)
    (folder / "weather").mkdir()
    (folder / "pond.toml").write_text(description(), encoding="utf-8", newline="")
    (folder / "journal/2026-desk.txt").write_bytes(journal())
    for name in ("2026-\x1b[6666m.txt", "2026-\u202etxt.exe.txt", "[red]2026.txt"):
        (folder / "journal" / name).write_text("x\n")
    (folder / "journal/\x1b]0;title6666\x07.txt").mkdir()
    steps = [
        {"id": f"own-{n}", "after": "outlet-shut", "text": text or "x", "unit": text}
        for n, text in enumerate(TOML)
    ]
    wrong = {"id": "\x1b[6666m", "after": "\x1b]0;title6666\x07", "text": "x", "\x1b[6666m": 1}
    (folder / "procedure.toml").write_text(
        tomli_w.dumps({"step": [*steps, wrong], "\x1b[6666m": 1}), encoding="utf-8"
    )
    (folder / "weather/\x1b[6666m.csv").write_bytes(table())
    (folder / "weather/2026.csv").write_bytes(table())
    return folder


def table() -> bytes:
    """A weather table with hostile headers and cells."""
    plain = (text.replace("\n", " ").replace('"', "'") for text in ALL if "\0" not in text)
    cells = [f'"{text}"' for text in plain]
    row = ",".join(cells)
    rows = [f"2026-06-{n % 28 + 1:02},{cell},{row}\n" for n, cell in enumerate(cells)]
    days = [f"{cell},1,{row}\n" for cell in cells]
    text = f"Date,Tmin [degC],{row}\n" + "".join((*rows, *days))
    return text.encode("utf-8", "replace")


def settings(folder: Path) -> None:
    """Hostile settings, and a hostile theme of the keeper's own."""
    folder.mkdir(parents=True)
    told = {
        "device": "desk", "by": "\x1b[6666m", "theme": "\x1b]0;title6666\x07",
        "keys": {"\x1b[6666m": "\x1b[6666m", "refill": "\x1b[6666m"},
    }  # fmt: skip
    (folder / "settings.toml").write_text(tomli_w.dumps(told), encoding="utf-8")
    (folder / "themes").mkdir()
    theme = {"name": "\x1b[6666m", "\x1b[6666m": "x"}
    (folder / "themes/\x1b[6666m.toml").write_text(tomli_w.dumps(theme), encoding="utf-8")
    named = {"name": "mine", "dark": True, "\x1b[6666m": "\x1b]0;title6666\x07"}
    (folder / "themes/mine.toml").write_text(tomli_w.dumps(named), encoding="utf-8")
