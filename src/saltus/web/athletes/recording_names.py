"""What the coach called a recording, which is kept under a name that tells its content."""

import re
from collections.abc import Iterable

from saltus.web.models import Athlete, StoredRecording

__all__ = ["names_of", "with_names"]

_KEPT_AS = re.compile(r"(?:recordings/)?([0-9a-f]{64}\.\w+)")


def names_of(
    athlete: Athlete, recordings: Iterable[StoredRecording] | None = None
) -> dict[str, str]:
    """What the coach called each recording, by the name under which it is kept.

    `recordings` are those of the athlete, if they are at hand already.
    """
    if recordings is None:
        recordings = athlete.recordings.only("sha256", "suffix", "name")
    return {f"{each.sha256}{each.suffix}": each.name for each in recordings}


def with_names(sentences: Iterable[str], athlete: Athlete) -> list[str]:
    """Sentences that speak of recordings, by the names that the coach gave them."""
    told = list(sentences)
    if not any(map(_KEPT_AS.search, told)):
        return told
    names = names_of(athlete)
    return [_KEPT_AS.sub(lambda kept: names.get(kept[1], kept[0]), each) for each in told]
