"""How much agent a litre of this tap water needs, and why."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

from pondtui.pond.setup.model import Conditioner, Setup, Source
from pondtui.records import NamedTuple
from pondtui.science.chlorine import dechlorinator_g, dose_factor

NOT_TAP = ("rain", "well")  # a test of the tap says nothing about these
STALE_DAYS = 30  # utilities switch disinfectant for weeks: common practice, no source


class AgentRate(NamedTuple):
    """Agent per litre, mL or g as `unit` says; `label_per_l` is one plain label dose."""

    per_l: float
    label_per_l: float
    unit: str
    factor: float
    why: str


class Strength(NamedTuple):
    """Chlorine in the tap water, mg/L as Cl2; `fresh` when measured within 30 days."""

    total_mg_l: float | None
    free_mg_l: float | None
    fresh: bool
    measured: date | None

    @property
    def combined_mg_l(self) -> float | None:
        """Chloramine, as the difference of total and free."""
        if self.total_mg_l is None or self.free_mg_l is None:
            return None
        return max(self.total_mg_l - self.free_mg_l, 0.0)


TapTest = tuple[int, float, float | None] | None


def strength(source: Source | None, day: date, tap_test: TapTest) -> Strength:
    """The tap's strength on a day: the later of pond.toml's and the journal's own test."""
    said = Strength(None, None, False, None)
    if source is not None and source.total_chlorine_mg_l is not None:
        fresh = source.measured is not None and day - source.measured <= timedelta(STALE_DAYS)
        said = Strength(
            source.total_chlorine_mg_l, source.free_chlorine_mg_l, fresh, source.measured
        )
    if tap_test is None or (source is not None and source.name in NOT_TAP):
        return said
    tested = datetime.fromtimestamp(tap_test[0], UTC).date()
    if said.measured is not None and said.measured > tested:
        return said
    return Strength(tap_test[1], tap_test[2], day - tested <= timedelta(STALE_DAYS), tested)


def rate_per_l(
    setup: Setup, source_name: str, day: date, tap_test: TapTest = None
) -> AgentRate | None:
    """The agent a litre needs: label x the larger of the label's chloramine multiplier and
    strength / label strength, never under 1; a dry agent by stoichiometry with its margin.

    None when no conditioner is described for the day, or a dry one meets an unknown strength.
    """
    conditioner = setup.conditioner_on(day)
    if conditioner is None:
        return None
    source = setup.sources.get(source_name)
    tap = strength(source, day, tap_test)
    if conditioner.kind == "dry":
        return _dry_rate(conditioner, tap.total_mg_l)
    label = conditioner.label_dose_ml / conditioner.label_volume_l
    chloramine = source is not None and source.chloramine is True
    multiplier = conditioner.chloramine_multiplier if chloramine else None
    factor = dose_factor(tap.total_mg_l, conditioner.rated_for_mg_l, multiplier or 1.0)
    return AgentRate(label * factor, label, "mL", factor, _why(factor, multiplier, tap))


def _dry_rate(conditioner: Conditioner, total_mg_l: float | None) -> AgentRate | None:
    if not total_mg_l:
        return None
    grams = dechlorinator_g(
        1.0,
        total_mg_l,
        conditioner.agent,
        margin=conditioner.margin,
        purity=conditioner.purity,
    )
    why = f"for {total_mg_l:g} mg/L of total chlorine and a margin of {conditioner.margin:.0%}"
    if conditioner.stock_g_l:
        millilitres = grams / conditioner.stock_g_l * 1000
        return AgentRate(millilitres, millilitres, "mL", 1.0, why)
    return AgentRate(grams, grams, "g", 1.0, why)


def _why(factor: float, multiplier: float | None, tap: Strength) -> str:
    if factor <= 1.0:
        return "the label's own rate"
    if multiplier is not None and factor == multiplier:
        return f"{factor:g} x the label's rate, as it says for chloramine"
    return f"{factor:.2g} x the label's rate: the tap has {tap.total_mg_l:g} mg/L"
