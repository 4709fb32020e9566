"""The rules behind the alarms: each looks at one thing and says what to do about it."""

from __future__ import annotations

from collections.abc import Callable

from pondtui.pond.daily import alarms_barrel, alarms_care, alarms_level, alarms_weather
from pondtui.pond.daily.alarm_look import Look
from pondtui.pond.state.model import Alarm

RULES: tuple[Callable[[Look], list[Alarm]], ...] = (
    alarms_level.past_mark,
    alarms_level.near_mark,
    alarms_level.old_reading,
    alarms_barrel.open_batch,
    alarms_barrel.old_water,
    alarms_barrel.untested,
    alarms_barrel.running_on,
    alarms_care.stock,
    alarms_care.out_of_date,
    alarms_care.reading,
    alarms_care.chores,
    alarms_weather.steady_loss,
    alarms_weather.unusual_loss,
    alarms_weather.frost,
    alarms_weather.heat,
    alarms_care.clock,
    alarms_care.files,
)
