"""Which colours a theme holds, what they paint, and which must be readable on which."""

from __future__ import annotations

from textual.color import Color

LEAST_CONTRAST = 4.5  # WCAG 2.1, success criterion 1.4.3, normal text

COLOURS = (
    "primary",
    "secondary",
    "accent",
    "foreground",
    "background",
    "surface",
    "panel",
    "success",
    "warning",
    "error",
)
OWN = ("water", "water-fill", "earth", "plant", "mark", "quiet")

# How each role of a drawing or a row is painted: text colour, and the ground where it has its own.
ROLES: dict[str, tuple[str, str]] = {
    "text": ("foreground", ""),
    "quiet": ("quiet", ""),
    "good": ("success", ""),
    "warn": ("warning", ""),
    "danger": ("error", ""),
    "mark": ("mark", ""),
    "earth": ("earth", ""),
    "plant": ("plant", ""),
    "vessel": ("foreground", ""),
    "surface": ("water", ""),
    "water": ("water", "water-fill"),
    "heel": ("foreground", "water-fill"),
    "water-wet": ("water", "water-fill"),
    "good-wet": ("success", "water-fill"),
    "warn-wet": ("warning", "water-fill"),
    "danger-wet": ("error", "water-fill"),
    "mark-wet": ("mark", "water-fill"),
}
_GROUNDS = ("background", "surface", "panel")
_TEXTS = ("primary", "secondary", "accent", *sorted({text for text, _ in ROLES.values()}))

# Every text on every ground that the screens use; the last are words set on a coloured bar.
PAIRS: tuple[tuple[str, str], ...] = (
    *((text, ground) for text in _TEXTS for ground in _GROUNDS),
    *sorted({pair for pair in ROLES.values() if pair[1]}),
    *(("background", bar) for bar in ("primary", "accent", "success", "warning", "error")),
)


def contrast(one: Color, other: Color) -> float:
    """Contrast ratio C of two colours.

    Source: WCAG 2.1 (2018), definitions of contrast ratio and of relative luminance.
    Arguments: one, other: solid colours, in any order.
    Returns: C [-], 1 to 21.
    Formula: C = (L1 + 0.05)/(L2 + 0.05), L = 0.2126 R + 0.7152 G + 0.0722 B of linear sRGB.
    Limits: WCAG's sRGB threshold is 0.03928, IEC's 0.04045; no 8-bit colour lies between.
    """
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: Color) -> float:
    parts = [
        part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4
        for part in colour.normalized
    ]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]
