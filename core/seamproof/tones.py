"""Colours as numbers: tints, and the grey that is as light as a colour."""

from __future__ import annotations

from typing import Final

_DARK: Final = 0.30
"""[1] Below this relative luminance, dark letters and lines no longer read."""


def _channels(colour: str) -> tuple[float, float, float]:
    return (int(colour[1:3], 16) / 255, int(colour[3:5], 16) / 255, int(colour[5:7], 16) / 255)


def _written(channels: tuple[float, float, float]) -> str:
    return "#" + "".join(f"{round(255 * min(1.0, max(0.0, value))):02x}" for value in channels)


def luminance(colour: str) -> float:
    """The relative luminance of #rrggbb, from 0 (black) to 1 (white).

    Source: W3C, Web Content Accessibility Guidelines 2.2, definition of relative luminance (the sRGB transfer curve).
    """
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in _channels(colour))
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def grey(colour: str) -> str:
    """The grey of the same luminance as #rrggbb: its value, as quilters say."""
    y = luminance(colour)
    level = 12.92 * y if y <= 0.0031308 else 1.055 * y ** (1 / 2.4) - 0.055
    return _written((level, level, level))


def tint(colour: str, share: float) -> str:
    """#rrggbb with white: `share` 1 leaves it as it is, 0 gives white."""
    r, g, b = (1 - share * (1 - value) for value in _channels(colour))
    return _written((r, g, b))


def is_dark(colour: str) -> bool:
    """Whether lines and letters on it must be light."""
    return luminance(colour) < _DARK


def lightness(colour: str) -> float:
    """The CIE lightness L* of #rrggbb, from 0 (black) to 100 (white).

    Source: CIE 15, Colorimetry: L* = 116·f(Y) − 16 with the reference white at Y = 1.
    """
    y = luminance(colour)
    root: float = y ** (1 / 3)
    return 116 * root - 16 if y > 216 / 24389 else y * 24389 / 27
