"""Figures with the decimal sign of whoever reads them."""

from django.utils.formats import get_format

__all__ = ["decimals", "signed"]


def decimals(text: str) -> str:
    """A figure, written with a point, in the reader's language: 41.5 cm, or 41,5 cm."""
    sign = str(get_format("DECIMAL_SEPARATOR"))
    return text if sign == "." else text.replace(".", sign)


def signed(text: str) -> str:
    """The same of a figure that may lie below nought, with a minus in the place of the hyphen."""
    return decimals(text).replace("-", "−")
