"""pondtui: the keeper's logbook and checklist for a small garden pond."""

from __future__ import annotations

__version__ = "0.1.0"
