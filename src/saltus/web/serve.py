"""Start the application: back up, migrate, make what pages need, listen."""

import gc
import ipaddress
import os
import shutil
import sqlite3
import threading
import time
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from saltus.errors import UsageError

if TYPE_CHECKING:
    from saltus.web.backups import Place

__all__ = ["place_of_backups", "prepare", "serve"]

_THREADS = 8
_BACKUPS_KEPT = 10


def serve(
    host: str,
    port: int,
    say: Callable[[str], None],
    *,
    opened: Callable[[str], None] | None = None,
) -> None:
    """Serve the pages until stopped.

    Parameters
    ----------
    host, port : str, int
        Where to listen.
    say : callable
        Tells the person a sentence.
    opened : callable, optional
        Is told the address as soon as it answers.

    Raises
    ------
    UsageError
        If the address is beyond this machine and the host has not said what that needs.
    """
    from saltus.web.environment import read_environment

    environment = read_environment()
    if not _is_loopback(host):
        if not environment.secret_key_given or not environment.allowed_hosts:
            raise UsageError(
                f"To be reached at {host} from other machines Saltus needs SALTUS_SECRET_KEY (50 "
                "random characters or more) and SALTUS_ALLOWED_HOSTS (the names by which it is "
                "reached). Put a proxy that speaks TLS in front and set SALTUS_HTTPS=1: "
                "docs/hosting.md shows how."
            )
        if not environment.https:
            say("Warning: without TLS in front everybody on the network can read along.")
    prepare(say)
    from waitress import create_server

    from saltus.web.wsgi import application

    # The proxy in front tells who asks, and that it was over TLS; it is the only one that can
    # reach this port, and what it says replaces whatever a browser claims.
    proxy: dict[str, object] = (
        {
            "trusted_proxy": "*",
            "trusted_proxy_count": 1,
            "trusted_proxy_headers": {"x-forwarded-for", "x-forwarded-proto"},
            "clear_untrusted_proxy_headers": True,
        }
        if environment.https
        else {}
    )
    try:
        server = create_server(
            application, host=host, port=port, threads=_THREADS, ident=None, **proxy
        )
    except OSError as error:
        raise UsageError(
            f"Port {port} on {host} cannot be used ({error.strerror}): choose another with --port."
        ) from error
    address = f"http://{host}:{server.effective_port}/"
    say(f"Saltus is at {address}  (stop it with Ctrl+C)")
    if opened is not None:
        opened(address)
    threading.Thread(target=_warm_up, name="saltus-warm-up", daemon=True).start()
    try:
        server.run()
    finally:
        server.close()


def _warm_up() -> None:
    """Load the pages while nobody waits for them yet."""
    from django.urls import get_resolver

    _ = get_resolver().url_patterns
    # What addresses do not need, but the first page of an athlete does.
    import_module("saltus.athlete.pushoff_kernels")
    import_module("scipy.optimize")
    from saltus.web.sentences import make_ready

    make_ready()
    # What is loaded now is never garbage; looking it over again and again would hold up pages.
    gc.collect()
    gc.freeze()


def prepare(say: Callable[[str], None]) -> None:
    """Bring the database up to date, after a backup, and make the files that pages need."""
    _set_up()
    from django.conf import settings
    from django.core.management import call_command
    from django.db import connection
    from django.db.migrations.executor import MigrationExecutor

    _make_chart_bundle(Path(settings.STATICFILES_DIRS[1][1]))
    executor = MigrationExecutor(connection)
    steps = executor.migration_plan(executor.loader.graph.leaf_nodes())
    if steps:
        if executor.loader.applied_migrations and connection.vendor == "sqlite":
            path = back_up(Path(connection.settings_dict["NAME"]))
            say(f"The database was copied to {path} before it is brought up to date.")
        call_command("migrate", interactive=False, verbosity=0)
    from saltus.web.deletion import purge_expired

    purged = purge_expired()
    if purged:
        say(f"{purged} of the athletes that were deleted a month ago or more are gone for good.")
    call_command("clearsessions")


def place_of_backups() -> "Place":
    """Where this installation keeps its database, recordings and backups.

    Raises
    ------
    UsageError
        If the database is PostgreSQL, which has tools of its own; the sentence says which.
    """
    _set_up()
    from saltus.web.backups import place_here

    place = place_here()
    if place is None:
        raise UsageError(
            "The data is in PostgreSQL, which has its own tools: pg_dump and pg_restore, and a "
            "copy of the folder of recordings. docs/hosting.md gives the commands."
        )
    return place


def _set_up() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "saltus.web.settings")
    import django
    from django.apps import apps

    if not apps.ready:
        django.setup()


def back_up(database: Path) -> Path:
    """Copy an SQLite database while it may be in use; the newest ten copies are kept."""
    folder = database.parent / "backups"
    folder.mkdir(exist_ok=True, mode=0o700)
    target = folder / f"{database.stem}-{time.strftime('%Y%m%d-%H%M%S')}.sqlite3"
    with sqlite3.connect(database) as source, sqlite3.connect(target) as copy:
        source.backup(copy)
    for old in sorted(folder.glob(f"{database.stem}-*.sqlite3"))[:-_BACKUPS_KEPT]:
        old.unlink()
    return target


def _make_chart_bundle(folder: Path) -> None:
    """Write the script that draws charts, once for each version of it."""
    import importlib.metadata

    version = importlib.metadata.version("vl-convert-python")
    target = folder / "charts.js"
    stamp = folder / "charts.version"
    if target.exists() and stamp.exists() and stamp.read_text() == version:
        return
    import vl_convert

    folder.mkdir(parents=True, exist_ok=True)
    part = folder / "charts.js.part"
    part.write_text(vl_convert.javascript_bundle(), encoding="utf-8")
    shutil.move(part, target)
    stamp.write_text(version)


def _is_loopback(host: str) -> bool:
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
