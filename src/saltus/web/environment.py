"""What the host says through the environment: one table, read once, refused when wrong."""

import os
import secrets
import zoneinfo
from dataclasses import dataclass
from pathlib import Path

import platformdirs

from saltus.errors import UsageError

__all__ = ["SETTINGS", "Environment", "read_environment"]

SETTINGS = {
    "SALTUS_DATA": "Folder for the database, recordings and backups; the user's data folder "
    "otherwise.",
    "DATABASE_URL": "postgres://... to keep the data in PostgreSQL; SQLite in SALTUS_DATA "
    "otherwise.",
    "SALTUS_SECRET_KEY": "At least 50 random characters; made and kept in SALTUS_DATA otherwise. "
    "Demanded beyond this machine.",
    "SALTUS_ALLOWED_HOSTS": "Host names, with commas, by which the application may be reached. "
    "Demanded beyond this machine.",
    "SALTUS_HTTPS": "1 where a proxy in front speaks TLS: cookies then go over TLS only.",
    "SALTUS_TIME_ZONE": "Time zone that days and times are told in, such as Europe/Berlin; UTC "
    "otherwise.",
    "SALTUS_DEBUG": "1 for developers only.",
}
"""Every setting and what it is for; docs/hosting.md lists the same."""

_SHORTEST_KEY = 50


@dataclass(frozen=True, slots=True)
class Environment:
    """The host's choices.

    Parameters
    ----------
    data : Path
        Folder of everything that is kept.
    database_url : str
        A database URL.
    secret_key : str
        For signing.
    secret_key_given : bool
        Whether the host gave it.
    allowed_hosts : tuple of str
        Host names.
    https : bool
        Whether TLS is spoken in front.
    time_zone : str
        Name of a time zone.
    debug : bool
        For developers.
    """

    data: Path
    database_url: str
    secret_key: str
    secret_key_given: bool
    allowed_hosts: tuple[str, ...]
    https: bool
    time_zone: str
    debug: bool


def read_environment() -> Environment:
    """Read the environment, making the data folder and a secret key where there is none.

    Raises
    ------
    UsageError
        If a setting cannot be right; the sentence says which and what to do.
    """
    data = Path(os.environ.get("SALTUS_DATA") or platformdirs.user_data_path("saltus"))
    try:
        data.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as error:
        raise UsageError(
            f"SALTUS_DATA: the folder {data} cannot be made ({error.strerror}): name another."
        ) from error
    given = os.environ.get("SALTUS_SECRET_KEY", "")
    if given and len(given) < _SHORTEST_KEY:
        raise UsageError(f"SALTUS_SECRET_KEY: at least {_SHORTEST_KEY} random characters, please.")
    hosts = tuple(
        host.strip()
        for host in os.environ.get("SALTUS_ALLOWED_HOSTS", "").split(",")
        if host.strip()
    )
    return Environment(
        data=data,
        database_url=os.environ.get("DATABASE_URL") or f"sqlite:///{data / 'saltus.sqlite3'}",
        secret_key=given or _kept_key(data),
        secret_key_given=bool(given),
        allowed_hosts=hosts,
        https=_flag("SALTUS_HTTPS"),
        time_zone=_time_zone(),
        debug=_flag("SALTUS_DEBUG"),
    )


def _flag(name: str) -> bool:
    value = os.environ.get(name, "").strip().casefold()
    if value in ("", "0", "no", "false"):
        return False
    if value in ("1", "yes", "true"):
        return True
    raise UsageError(f"{name} is {value!r}: 1 or 0, please.")


def _time_zone() -> str:
    name = os.environ.get("SALTUS_TIME_ZONE", "").strip() or "UTC"
    if name not in zoneinfo.available_timezones():
        raise UsageError(f"SALTUS_TIME_ZONE is {name!r}: a name such as Europe/Berlin, please.")
    return name


def _kept_key(data: Path) -> str:
    path = data / "secret-key"
    if not path.exists():
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w") as file:
            file.write(secrets.token_urlsafe(64))
    return path.read_text().strip()
