"""``saltus demo``: the pages on an invented squad, in a throw-away folder of their own.

Django is only set up once the folder is chosen: its settings read where the data lies.
"""

import datetime as dt
import hashlib
import json
import os
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import platformdirs

from saltus.errors import UsageError
from saltus.web.environment import SETTINGS

__all__ = ["MARK", "default_folder", "prepare_demo", "serve_demo"]

MARK = "demo.json"
"""Says that a folder holds the demo, what made it, and how its coach signs in."""

_WEEKS_FRESH = 4
_PARTS = ("training", "jumps", "figures", "web/demo_squad.py")
"""What the demo depends on, beside the floors that make the squad's records; the database
itself is brought up to date like any other."""


def default_folder() -> Path:
    """Where the demo lies unless another folder is named: what is there may go at any time."""
    return platformdirs.user_cache_path("saltus") / "demo"


def prepare_demo(
    folder: Path, say: Callable[[str], None], *, fresh: bool = False
) -> dict[str, Any]:
    """Fill a folder with the invented squad, unless it is there already.

    Parameters
    ----------
    folder : Path
        Made where there is none. Only a folder that is empty, or that holds a demo, is used.
    say : callable
        Tells the person a sentence.
    fresh : bool
        Whether to throw away what was changed in the demo, and begin anew.

    Returns
    -------
    dict
        What the mark says: among others ``email`` and ``password``.

    Raises
    ------
    UsageError
        If the folder holds something else.
    """
    folder = folder.resolve()
    mark = folder / MARK
    if folder.exists() and not folder.is_dir():
        raise UsageError(f"{folder} is a file: name a folder for the demo.")
    if folder.is_dir() and any(folder.iterdir()) and not mark.is_file():
        raise UsageError(
            f"{folder} holds files of its own: name an empty folder, so that nothing is lost."
        )
    known = _read(mark)
    usable = known.get("maker") == _maker() and _is_current(known) and not fresh
    if not usable and folder.is_dir():
        shutil.rmtree(folder)
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    if not usable:
        mark.write_text(json.dumps({"maker": "unfinished"}))
        mark.chmod(0o600)
    for name in SETTINGS:
        os.environ.pop(name, None)
    os.environ["SALTUS_DATA"] = str(folder)
    from saltus.web.serve import prepare

    prepare(say)
    if usable:
        say(f"The invented squad is in {folder} already.")
        return known
    from saltus.web.demo_squad import fill

    told = fill(say) | {"maker": _maker()}
    mark.write_text(json.dumps(told))
    say(f"The invented squad is in {folder}. Whatever you change there is soon thrown away.")
    return told


def serve_demo(
    folder: Path, host: str, port: int, say: Callable[[str], None], *, fresh: bool = False
) -> None:
    """Serve the demo until stopped, with a link that signs its coach in once."""
    told = prepare_demo(folder, say, fresh=fresh)
    from saltus.web.serve import serve

    def greet(address: str) -> None:
        from saltus.web.accounts.one_time import path_for
        from saltus.web.models import User

        coach = User.objects.get(email=told["email"])
        say(f"Sign in once, within the hour: {address.rstrip('/')}{path_for(coach)}")
        athlete = User.objects.select_related("athlete").get(email=told["athlete"])
        say(
            f"What the athlete {athlete.name} sees, on a phone (in a window of its own): "
            f"{address.rstrip('/')}{path_for(athlete)}"
        )
        say(f"Or at any time as {told['email']} with the password {told['password']}")

    serve(host, port, say, opened=greet)


def _read(mark: Path) -> dict[str, Any]:
    try:
        told = json.loads(mark.read_text())
    except (OSError, ValueError):
        return {}
    return told if isinstance(told, dict) else {}


def _is_current(told: dict[str, Any]) -> bool:
    """Whether the dates in the demo are still about today's."""
    try:
        made = dt.date.fromisoformat(told["today"])
    except (KeyError, TypeError, ValueError):
        return False
    return abs(dt.date.today() - made) < dt.timedelta(weeks=_WEEKS_FRESH)  # noqa: DTZ011


def _maker() -> str:
    """What makes the demo: another state of the source makes another demo."""
    import saltus
    from saltus.record.example.stamp import maker

    package = Path(saltus.__file__).parent
    digest = hashlib.sha256(maker().encode())
    for part in _PARTS:
        place = package / part
        for path in sorted(place.rglob("*")) if place.is_dir() else [place]:
            if path.suffix in {".py", ".toml"}:
                digest.update(path.relative_to(package).as_posix().encode())
                digest.update(path.read_bytes())
    return f"{saltus.__version__} {digest.hexdigest()[:16]}"
