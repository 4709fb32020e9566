"""Checks that a number lies where a formula holds; each raises `ValueError` with one sentence."""

from __future__ import annotations

from math import inf


def positive(value: float, what: str) -> None:
    """Refuse zero, negative numbers, infinity and not-a-number."""
    if not 0 < value < inf:
        raise ValueError(f"{what} must be above zero, not {value:g}")


def not_negative(value: float, what: str) -> None:
    """Refuse negative numbers, infinity and not-a-number."""
    if not 0 <= value < inf:
        raise ValueError(f"{what} cannot be negative or endless, not {value:g}")


def within(value: float, low: float, high: float, what: str, unit: str = "") -> None:
    """Refuse numbers outside low..high, both allowed."""
    if not low <= value <= high:
        tail = f" {unit}" if unit else ""
        raise ValueError(f"{what} must be {low:g} to {high:g}{tail}, not {value:g}{tail}")
