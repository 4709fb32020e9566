"""What a verb works with: the pond, its journal, the clock, and where to write. Read when asked."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from contextlib import suppress
from datetime import UTC, datetime, timedelta, tzinfo
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO
from zoneinfo import ZoneInfo

from pondtui.clean import visible
from pondtui.errors import FileError, InputError, UsageError
from pondtui.records import NamedTuple

if TYPE_CHECKING:
    from pondtui.books.journal import Journal
    from pondtui.books.pondfile import LoadedPond
    from pondtui.books.settings import Settings
    from pondtui.books.store import Saved
    from pondtui.cli.words import Call
    from pondtui.pond.setup.model import Setup
    from pondtui.pond.state.entry import Entry

NO_POND = (
    "there is no pond yet: `pondtui sample` shows one, `pondtui new DIR` makes yours, "
    "--pond DIR names one"
)


def as_path(typed: str) -> Path:
    """A path as typed; `~` is the home folder, and a `~name` that nobody has stays as it is."""
    return Path(os.path.expanduser(typed))


def one_json(data: Mapping[str, str]) -> str:
    """One line of JSON, for a sentence."""
    import json  # here, as in `answer`: the app and most calls write none

    return json.dumps(data)


class Clock(NamedTuple):
    """The clock of a call: fixed by PONDTUI_NOW, or the real one, for the sample with an offset."""

    fixed: datetime | None = None
    ahead: timedelta = timedelta()

    def now(self) -> datetime:
        """The moment, to the second, in UTC."""
        moment = self.fixed or datetime.now(UTC) + self.ahead
        return moment.astimezone(UTC).replace(microsecond=0)


def clock_from(environ: Mapping[str, str], now: datetime | None) -> Clock:
    """The clock that a call asks for. Raises UsageError for a PONDTUI_NOW that is no moment."""
    text = environ.get("PONDTUI_NOW", "")
    if now is not None or not text:
        return Clock(now)
    from pondtui.books.stamps import parse_stamp

    try:
        instant, remark = parse_stamp(text, UTC)
    except InputError as error:
        raise UsageError(f"PONDTUI_NOW: {error}") from None
    if remark:
        raise UsageError("PONDTUI_NOW needs an offset, such as 2026-06-03 07:42:00+02:00")
    return Clock(datetime.fromtimestamp(instant, UTC))


class Context:
    """One call's surroundings; everything is read on first use and once."""

    def __init__(
        self, out: TextIO, err: TextIO, clock: Clock, pond: str | None, *, as_json: bool = False
    ) -> None:
        self.out = out
        self.err = err
        self.clock = clock
        self.named_pond = pond
        self.as_json = as_json
        self._settings_sound = True
        self.sitter: str | None = None  # as typed: whose mode the call is in
        self.sample = False  # on the sample's copy, which is never the pond used last

    def inside(self, folder: Path, ahead: timedelta, *, as_json: bool) -> Context:
        """The same call on the sample's copy, with its clock `ahead` unless it is fixed."""
        clock = Clock(self.clock.fixed, ahead)
        inner = Context(self.out, self.err, clock, str(folder), as_json=as_json)
        inner.sample = True
        inner.sitter = self.sitter
        return inner

    @cached_property
    def now(self) -> datetime:
        """The moment of the call, in UTC."""
        return self.clock.now()

    @property
    def instant(self) -> int:
        """The moment of the call in seconds since 1970."""
        return int(self.now.timestamp())

    @cached_property
    def settings(self) -> Settings:
        """The program's own settings; what cannot be used there is left at its default."""
        from pondtui.books.settings import read_settings
        from pondtui.paths import config_dir

        settings, problems = read_settings(config_dir())
        for problem in problems:
            self.warn(str(problem))
        self._settings_sound = not problems
        return settings

    @cached_property
    def sitter_name(self) -> str:
        """The sitter whose mode this is, as pond.toml writes the name; "" in the keeper's.

        Raises UsageError for somebody who is not in pond.toml.
        """
        if self.sitter is None:
            return ""
        from pondtui.pond.away.people import person_named

        person = person_named(self.setup, self.sitter)
        if person is None:
            names = ", ".join(p.name for p in self.setup.persons) or "nobody"
            raise UsageError(
                f"--sitter: no [[person]] in pond.toml is called {self.sitter or 'nothing'}; "
                f"there is {names}"
            )
        return person.name

    @property
    def by(self) -> str:
        """Who writes: the sitter, else the user of this device."""
        return self.sitter_name or self.settings.by

    @cached_property
    def folder(self) -> Path:
        """The pond folder of this call. Raises UsageError without one, FileError for no pond."""
        named = self.named_pond or self.settings.last_pond
        if not named:
            raise UsageError(NO_POND)
        folder = as_path(named).absolute()
        if not folder.is_dir():
            what = "is no folder" if folder.exists() else "does not exist"
            raise FileError(f"{folder}: the pond folder {what}; `pondtui new DIR` makes one")
        if not (folder / "pond.toml").exists():
            raise FileError(f"{folder}: no pond.toml in it; `pondtui new DIR` makes a pond folder")
        return folder

    @cached_property
    def loaded(self) -> LoadedPond:
        """The description as read, problems included."""
        from pondtui.books.pondfile import load

        return load(self.folder)

    @cached_property
    def setup(self) -> Setup:
        """The description. Raises FileError with the first problem where it cannot be used."""
        if self.loaded.setup is None:
            problems = [p for p in self.loaded.problems if p.severity == "problem"]
            more = f" (and {len(problems) - 1} more: `pondtui check`)" if len(problems) > 1 else ""
            raise FileError(f"{problems[0]}{more}")
        return self.loaded.setup

    @property
    def loaded_or_none(self) -> Setup | None:
        """The description, where a pond is named and it can be used."""
        try:
            return self.setup
        except (FileError, UsageError):
            return None

    @cached_property
    def zone(self) -> tzinfo:
        """The pond's time zone; UTC while its description cannot be used."""
        setup = self.loaded.setup
        return UTC if setup is None else ZoneInfo(setup.pond.time_zone)

    @property
    def gallon(self) -> str | None:
        """Which gallon a bare one is; None where no pond says it."""
        try:
            return self.setup.gallon
        except (FileError, UsageError):
            return None

    @cached_property
    def journal(self) -> Journal:
        """The whole journal, as it stood when it was first asked for."""
        return self.read_again()

    def read_again(self) -> Journal:
        """The whole journal as it stands now."""
        from pondtui.books.journal import read_folder

        return read_folder(self.folder, self.zone, self.gallon)

    @cached_property
    def device(self) -> str:
        """This device's name in the journal: from the settings, else made of the host's."""
        import socket

        from pondtui.books.store import check_device, suggest_device

        if self.settings.device:
            return check_device(self.settings.device)
        return suggest_device(socket.gethostname())

    def append(self, entry: Entry) -> Saved:
        """Write an entry. Raises FileError where it is not on the disk afterwards."""
        from pondtui.books.store import Store

        self._warn_of_description()
        if self.journal.read_only:
            raise FileError(f"{self.folder}: the pond is read-only, see `pondtui check`")
        saved = Store(self.folder, self.device).append(entry)
        if not saved.locked:
            self.warn("this disk knows no locks: let one program write at a time")
        if not self.settings.device and self._settings_sound:
            self._keep_device_name()
        return saved

    def _keep_device_name(self) -> None:
        """The host may be renamed; the device goes on in its own file."""
        from pondtui.books.settings import write_settings
        from pondtui.paths import config_dir

        with suppress(FileError):  # the entry is saved, and the name is only a comfort
            write_settings(config_dir(), self.settings._replace(device=self.device))

    def say(self, text: str = "") -> None:
        """One line, or several, on standard output; the ends of lines of a calendar stay."""
        self.out.write("\r\n".join(map(visible, text.split("\r\n"))) + "\n")

    def warn(self, sentence: str) -> None:
        """One sentence on standard error."""
        text = one_json({"warning": sentence}) if self.as_json else f"pondtui: {sentence}"
        self.err.write(visible(text) + "\n")

    def warn_unread(self) -> None:
        """Say that the answer is not whole where lines could not be read."""
        self._warn_of_description()
        problems = [p for p in self.journal.problems if p.severity == "problem"]
        if problems:
            what = f"{problems[0]}"
            more = f", and {len(problems) - 1} more" if len(problems) > 1 else ""
            self.warn(f"not all could be read ({what}{more}): `pondtui check` shows it")

    def _warn_of_description(self) -> None:
        try:
            self.setup  # noqa: B018 - asked for the sentence that it raises
        except FileError as error:
            self.warn(f"{error}; until that is mended times are in UTC")

    def take_no_words(self, call: Call) -> None:
        """Raises UsageError where words stand behind a verb that takes none."""
        if call.words:
            raise UsageError(f"{call.verb.name} takes no words: leave out '{call.words[0]}'")

    def answer(self, data: Mapping[str, Any] | list[Any], lines: Iterable[str]) -> None:
        """The answer of a verb: one JSON value with --json, else the lines."""
        if self.as_json:
            import json

            self.say(json.dumps(data, ensure_ascii=False, allow_nan=False, indent=2))
        else:
            for line in lines:
                self.say(line)
