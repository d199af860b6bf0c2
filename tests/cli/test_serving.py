import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from tests.cli.run import run

DEMO = Path(__file__).parents[2] / "demo"


def free_port() -> int:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return int(taken.getsockname()[1])


def page(port: int, path: str = "/slabs") -> str:
    """A page of the app, as soon as it answers."""
    for _ in range(300):
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{port}{path}") as answer:
                return str(answer.read().decode())
        except (urllib.error.URLError, ConnectionError):
            time.sleep(0.05)
    pytest.fail("The app did not answer within 15 seconds.")


def test_serve_opens_the_demo_and_then_the_same_store_again(tmp_path: Path) -> None:
    for _ in range(2):
        port = free_port()
        command = [sys.executable, "-m", "slabwright", "serve", "--port", str(port),
                   "--demo", str(DEMO), "--data", str(tmp_path)]  # fmt: skip
        with subprocess.Popen(  # noqa: S603  our own program
            command, stdout=subprocess.PIPE, text=True
        ) as program:
            assert "Two Tides" in page(port)
            program.send_signal(signal.SIGINT)
            said, _ = program.communicate(timeout=15)
        assert f"http://127.0.0.1:{port}/" in said
        assert program.returncode == 0
    assert (tmp_path / "demo.db").is_file()


def test_serve_listens_on_loopback_alone(tmp_path: Path) -> None:
    port = free_port()
    command = [sys.executable, "-m", "slabwright", "serve", "--port", str(port),
               "--data", str(tmp_path)]  # fmt: skip
    with subprocess.Popen(  # noqa: S603  our own program
        command, stdout=subprocess.PIPE
    ) as program:
        assert "Paste a recipe" in page(port, "/")
        table = Path("/proc/net/tcp").read_text("ascii")
        listening = [
            row.split()[1]
            for row in table.splitlines()[1:]
            if row.split()[3] == "0A" and row.split()[1].endswith(f":{port:04X}")
        ]
        program.terminate()
    assert listening == [f"0100007F:{port:04X}"]


def test_a_port_that_is_taken_is_told_of(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]

        ran = run("serve", "--port", str(port), "--data", str(tmp_path))

    assert ran.code == 2
    assert f"Port {port} is taken" in ran.err
    assert "--port" in ran.err
