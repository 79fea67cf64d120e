"""`rigbook serve` over a real connection: what is read, what follows a change, what a mistake leaves standing."""

from __future__ import annotations

import argparse
import socket
import struct
import threading
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from rigbook.cli import main
from rigbook.commands.serve import make_once, server_of
from rigbook.handbook.live import CHANGED, Live

ARGS = argparse.Namespace(view="crew", theme="plain", language="", since="")


@pytest.fixture
def served(tmp_path: Path) -> Iterator[tuple[str, Path, Live]]:
    """The address of a served plan, its file, and the live handbook."""
    assert main(["new", str(tmp_path / "barn")]) == 0
    plan = next((tmp_path / "barn").glob("*.yaml"))
    live = Live(lambda: make_once(plan, ARGS), seconds=0.02)
    server = server_of(live, "127.0.0.1", 0)
    threads = [threading.Thread(target=t) for t in (live.watch, server.serve_forever)]
    for thread in threads:
        thread.start()
    yield f"http://127.0.0.1:{server.server_address[1]}", plan, live
    live.end()
    server.shutdown()
    server.server_close()
    for thread in threads:
        thread.join()


def read(address: str) -> tuple[str, bytes]:
    with urllib.request.urlopen(address, timeout=10) as answer:
        return answer.headers["Content-Type"], answer.read()


def test_pages_and_their_files(served: tuple[str, Path, Live]) -> None:
    address, _, live = served
    kind, page = read(address + "/")
    assert kind == "text/html; charset=utf-8"
    assert CHANGED.encode() in page
    assert read(address + "/static/handbook.css")[0].startswith("text/css")
    # what is written to a folder does not listen for changes
    assert CHANGED.encode() not in (live.get("/") or b"")


@pytest.mark.parametrize("path", ["/none.html", "/../plan.yaml", "/%2e%2e/plan.yaml", "//etc/passwd", "/static/"])
def test_nothing_beside_the_handbook(served: tuple[str, Path, Live], path: str) -> None:
    with pytest.raises(urllib.error.HTTPError) as error:
        read(served[0] + path)
    assert error.value.code == 404
    error.value.close()


def test_a_change_is_told_and_shown(served: tuple[str, Path, Live]) -> None:
    address, plan, live = served
    with urllib.request.urlopen(address + CHANGED, timeout=10) as news:
        assert news.readline().decode().strip() == f"data: {live.version}"
        old = live.version
        plan.write_text(plan.read_text().replace("show: ", "show: Newer "))
        news.readline()
        assert news.readline().decode().strip() not in ("", f"data: {old}")
    assert b"Newer" in read(address + "/")[1]


def test_a_record_laid_beside_the_plan_is_shown(served: tuple[str, Path, Live]) -> None:
    address, plan, live = served
    old = live.version
    record = "plan: 1\nwalk-tests: [{date: 2027-01-10, heard: {main-left: as expected}}]\n"
    plan.with_name(f"{plan.stem}.walk-2027-01-10-1820-a3f9.yaml").write_text(record)
    assert live.newer(old, 10)
    assert b"2027-01-10" in read(address + "/")[1]


def test_a_mistake_leaves_the_last_good_handbook(
    served: tuple[str, Path, Live], capfd: pytest.CaptureFixture[str]
) -> None:
    address, plan, live = served
    before = read(address + "/")[1]
    plan.write_bytes(b"\x00\xff")
    while "stays as it was" not in capfd.readouterr().err:
        assert live.newer(live.version, 0.05) is None
    assert read(address + "/")[1] == before


def test_what_is_wrong_with_the_theme_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As `rigbook build` tells it: ink on paper of nearly its own lightness (WCAG 2.2, 1.4.3)."""
    assert main(["new", str(tmp_path / "barn")]) == 0
    plan = next((tmp_path / "barn").glob("*.yaml"))
    look = tmp_path / "look"
    look.mkdir()
    (look / "theme.yaml").write_text('title: Pale\ncolours: {ink: {light: "#cccccc"}}\n', "utf-8")
    capsys.readouterr()
    made = make_once(plan, argparse.Namespace(view="crew", theme=str(look), language="", since=""))
    assert made.files
    assert "low-contrast" in capsys.readouterr().out


def test_what_changed_is_served_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", str(tmp_path / "barn")]) == 0
    plan = next((tmp_path / "barn").glob("*.yaml"))
    old = tmp_path / "old.yaml"
    old.write_text(plan.read_text().replace("show: ", "show: Older "))
    made = make_once(plan, argparse.Namespace(**vars(ARGS) | {"since": str(old)}))
    assert made.files
    assert "changes.html" in made.files
    assert old in made.watched
    capsys.readouterr()
    assert main(["serve", str(plan), "--since", "HEAD~1"]) == 2
    assert "name the earlier plan by its path" in capsys.readouterr().err


def test_what_cannot_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["serve", str(tmp_path / "none")]) == 2
    assert main(["new", str(tmp_path / "barn")]) == 0
    assert main(["serve", str(tmp_path / "barn"), "--language", "xx"]) == 2
    assert main(["serve", str(tmp_path / "barn"), "--theme", "none"]) == 2
    capsys.readouterr()


def test_a_reader_who_leaves_in_the_middle_is_no_fault(
    served: tuple[str, Path, Live], capsys: pytest.CaptureFixture[str]
) -> None:
    port = int(served[0].rstrip("/").rpartition(":")[2])
    for _ in range(20):
        with socket.create_connection(("127.0.0.1", port), 5) as line:
            line.sendall(b"GET / HTTP/1.1\r\n\r\n")
            # closed at once, with what is still on its way thrown away
            line.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
    read(f"{served[0]}/")
    assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize(
    ("host", "answered"),
    [
        ("localhost:8347", True),
        ("127.0.0.1", True),
        ("[::1]:8347", True),
        ("192.0.2.7:8347", True),
        (socket.gethostname(), True),
        (f"{socket.gethostname().partition('.')[0]}.local:8347", True),
        ("rebound.example", False),
        ("127.0.0.1.rebound.example", False),
        ("localhost.rebound.example", False),
        ("[::1", False),
        ("", False),
    ],
)
def test_only_who_asks_for_this_machine_is_answered(
    served: tuple[str, Path, Live], host: str, answered: bool
) -> None:
    """A page from elsewhere whose name leads here sends that name along. Source: RFC 9110, 7.2 and 15.5.20."""
    request = urllib.request.Request(served[0], headers={"Host": host})
    if answered:
        with urllib.request.urlopen(request, timeout=10) as got:
            assert got.status == 200
    else:
        with pytest.raises(urllib.error.HTTPError) as refused:
            urllib.request.urlopen(request, timeout=10)
        assert refused.value.code == 421
