"""Where uploaded files wait that no record names yet."""

from pathlib import Path
from typing import Any

from django.conf import settings

from saltus.web.models import IncomingRecording

__all__ = ["figures_beside", "on_delete", "waiting_path"]


def waiting_path(incoming: IncomingRecording) -> Path:
    """Where the file of a waiting recording lies: under a name of ours."""
    folder = Path(settings.MEDIA_ROOT).with_name("incoming")
    folder.mkdir(exist_ok=True, mode=0o700)
    return folder / f"{incoming.pk}{incoming.suffix}"


def figures_beside(path: Path) -> list[Path]:
    """Figures that were drawn of a recording, beside it."""
    return sorted(path.parent.glob(f"{path.stem}.*.json"))


def on_delete(instance: IncomingRecording, **_signal: Any) -> None:
    """Delete the file with its row, also where the row goes with a test day or an athlete."""
    path = waiting_path(instance)
    for each in [*figures_beside(path), path]:
        each.unlink(missing_ok=True)
