"""Collect what is to be translated, the words of the core among it.

``cd src/saltus/web && django-admin makemessages -l de --settings saltus.web.settings`` (needs
gettext), then translate what is new in the .po file, then ``compilemessages``.
"""

from pathlib import Path
from typing import Any, ClassVar

from django.core.management.commands import makemessages

from saltus.web.core_words import core_words

__all__ = ["Command"]


class Command(makemessages.Command):
    """Django's own, which also knows the names that we give to gettext, and the core's words."""

    xgettext_options: ClassVar[list[str]] = [
        *makemessages.Command.xgettext_options,
        "--keyword=_l",
        "--keyword=lazy",
    ]

    def handle(self, *args: Any, **options: Any) -> None:
        """Let Django find the core's words in a file that is there only meanwhile."""
        noted = Path("core_words_noted.py")
        lines = [f"gettext_noop({words!r})\n" for words in core_words()]
        noted.write_text("".join(lines), encoding="utf-8")
        # Lines of files would change with every edit and hide what has changed in the texts.
        options |= {"no_location": True, "no_obsolete": True}
        try:
            super().handle(*args, **options)
        finally:
            noted.unlink()
