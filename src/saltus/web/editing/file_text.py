"""A field for the text of a whole file."""

from typing import Any

from django import forms

__all__ = ["FileText"]


class FileText(forms.CharField):
    """Kept as it was typed, nothing mended on the way; line ends as in a file."""

    def __init__(self, **kwargs: Any):
        widget = forms.Textarea(
            attrs={
                "rows": 30,
                "class": "record-text",
                "spellcheck": "false",
                "autocapitalize": "off",
                "autocomplete": "off",
                "wrap": "off",
            }
        )
        super().__init__(strip=False, widget=widget, **kwargs)

    def to_python(self, value: Any) -> str:
        """The text; browsers end lines with a carriage return as well."""
        return str(super().to_python(value)).replace("\r\n", "\n")
