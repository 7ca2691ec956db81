"""A lixiviumd of our own, for as long as it is needed."""

import subprocess
from contextlib import contextmanager
from pathlib import Path

BIN = Path(__file__).resolve().parent.parent.parent / "bin"


@contextmanager
def running():
    """Start the built lixiviumd with its plugins on a free port; give its address and stop it in the end."""
    server = subprocess.Popen([BIN / "lixiviumd", "--listen", "127.0.0.1:0", "--print-address", "--log-level", "warn"],
                              stdout=subprocess.PIPE, text=True)
    try:
        address = server.stdout.readline().strip()
        if not address:
            raise SystemExit("witness: lixiviumd did not start; run bin/lixiviumd to see why")
        yield address
    finally:
        server.terminate()
        server.wait()
