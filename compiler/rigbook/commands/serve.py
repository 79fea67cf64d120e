"""`rigbook serve`: show the handbook while the plan is written, on this machine or to phones in the same network."""

from __future__ import annotations

import argparse
import sys
import threading
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from rigbook.commands.build import VIEWS, known_language
from rigbook.commands.common import complain, find_plan, report, uncollected

if TYPE_CHECKING:
    from rigbook.handbook.live import Live, Made

HERE: Final = "127.0.0.1"
KINDS: Final = (
    (".html", "text/html; charset=utf-8"),
    (".css", "text/css; charset=utf-8"),
    (".js", "text/javascript; charset=utf-8"),
    (".json", "application/json"),
    (".webmanifest", "application/manifest+json"),
    (".svg", "image/svg+xml"),
    (".png", "image/png"),
    (".jpg", "image/jpeg"),
    (".jpeg", "image/jpeg"),
    (".gif", "image/gif"),
    (".webp", "image/webp"),
    (".pdf", "application/pdf"),
    (".txt", "text/plain; charset=utf-8"),
)
"""Media types by ending; written out, as those of the machine differ."""


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("plan", help="a plan file, or a folder with one plan in it")
    parser.add_argument("--view", choices=VIEWS, default="crew", help="who reads it")
    parser.add_argument("--theme", default="plain", metavar="NAME|DIR", help="a shipped theme, or a folder of your own")
    parser.add_argument("--language", default="", metavar="CODE", help="language of the pages' own words: en, de, fr")
    parser.add_argument(
        "--since", default="", metavar="OLD",
        help="with the page of changes since an earlier plan: a path, or a git revision such as HEAD~1 (crew only)",
    )  # fmt: skip
    parser.add_argument("--port", type=int, default=8347, help="number of the port (0: any that is free)")
    parser.add_argument(
        "--lan", action="store_true", help="let other devices of this network read it, such as phones on the stage"
    )


def run(args: argparse.Namespace) -> int:
    """Serve until interrupted. 0: ended by the user; 2: cannot run."""
    path = find_plan(args.plan)
    if path is None or not known_language(args.language):
        return 2
    from rigbook.handbook.live import Live

    live = Live(lambda: make_once(path, args))
    if not live.version:
        return 2
    try:
        server = server_of(live, "" if args.lan else HERE, args.port)
    except OSError as error:
        print(f"port {args.port} cannot be used: {error.strerror}; name another one with `--port`", file=sys.stderr)
        return 2
    threading.Thread(target=live.watch, daemon=True).start()
    _announce(server.server_address[1], args)
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        print()
    finally:
        live.end()
        server.server_close()
    return 0


@uncollected()
def make_once(path: Path, args: argparse.Namespace) -> Made:
    """The handbook as the files now stand, its findings printed."""
    from rigbook.commands.changes import earlier
    from rigbook.handbook.contrast import looked_at, on_pages
    from rigbook.handbook.live import Made
    from rigbook.handbook.make import make
    from rigbook.handbook.themes import ThemeError, find_theme
    from rigbook.pipeline import compile_plan

    got = compile_plan(path)
    old = earlier(path, args.since) if args.since else None
    if isinstance(old, str):
        print(old, file=sys.stderr)
    watched = {path, *(got.root / name for name in got.sources)}
    if Path(args.since).exists() and not isinstance(old, str | None):
        watched |= {old.root / name for name in old.sources}
    # a record of a walk test is a new file in the folder of the plan
    watched |= {file.parent for file in watched if file.is_file()}
    files, theme = None, None
    try:
        theme = find_theme(args.theme)
        found = looked_at(got, theme)
        report(found, sys.stdout)
        found = on_pages(found, theme)
        watched |= {file for _, folder in theme.layers for file in folder.rglob("*") if file.is_file()}
        if got.plan is not None and not isinstance(old, str):
            files = make(found, args.view, theme, args.language, since=old)
    except ThemeError as error:
        if theme is None:
            report(got, sys.stdout)
        complain(error)
    if files is None:
        print("the handbook stays as it was", file=sys.stderr)
    return Made(files, tuple(sorted(watched)))


def server_of(live: Live, address: str, port: int) -> ThreadingHTTPServer:
    """A server of a live handbook. OSError where the port is taken."""

    class Handler(_Handler):
        book = live

    class Server(ThreadingHTTPServer):
        daemon_threads = True

        def handle_error(self, request: Any, client_address: Any) -> None:
            """A reader who leaves in the middle, as phones do, is no fault."""
            if not isinstance(sys.exception(), OSError):
                super().handle_error(request, client_address)

    return Server((address, port), Handler)


class _Handler(BaseHTTPRequestHandler):
    """Answers from memory: there is no path to any file of the machine."""

    book: Live
    protocol_version = "HTTP/1.1"
    server_version = "rigbook"
    sys_version = ""

    def do_GET(self) -> None:
        """A page, a file of it, or the news of the next make."""
        from rigbook.handbook.live import CHANGED, with_reload

        if not is_this_machine(self.headers.get("Host", "")):
            text = b"this handbook is read at the address of the machine that serves it, or at its own name\n"
            self._send(HTTPStatus.MISDIRECTED_REQUEST, "text/plain; charset=utf-8", text)
            return
        path = self.path.partition("?")[0]
        if path == CHANGED:
            self._tell()
            return
        data = self.book.get(path)
        if data is None:
            self._send(HTTPStatus.NOT_FOUND, "text/plain; charset=utf-8", b"there is no such page in this handbook\n")
            return
        ending = Path(path).suffix or ".html"
        kind = dict(KINDS).get(ending, "application/octet-stream")
        self._send(HTTPStatus.OK, kind, with_reload(data) if ending == ".html" else data)

    def do_HEAD(self) -> None:
        """The same without the body."""
        self.do_GET()

    def _send(self, status: HTTPStatus, kind: str, data: bytes) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(data)))
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(data)

    def _tell(self) -> None:
        """Server-sent events (WHATWG HTML, 9.2): the version now, then each new one."""
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/event-stream")
        self.send_header("Cache-Control", "no-store")
        self.send_header("Connection", "close")
        self.close_connection = True
        self.end_headers()
        version: str | None = self.book.version
        try:
            while version is not None:
                told = version
                self.wfile.write(f"data: {told}\n\n".encode())
                self.wfile.flush()
                while (version := self.book.newer(told, 15)) is None and not self.book.ended:
                    self.wfile.write(b": still here\n\n")
                    self.wfile.flush()
        except OSError:
            pass  # the reader has gone

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the library names it so
        """Nothing: what is printed is about the plan."""


def is_this_machine(host: str) -> bool:
    """Whether a request was addressed to this machine: by a number, as `localhost` or by the machine's own name.

    A page from elsewhere could let its name lead here and read the handbook as if it were its own (DNS rebinding);
    its requests then carry that name. Source: RFC 9110, 7.2 and 15.5.20.
    """
    import socket
    from ipaddress import ip_address
    from urllib.parse import urlsplit

    try:
        name = urlsplit(f"//{host}").hostname or ""
    except ValueError:
        return False
    try:
        ip_address(name)
    except ValueError:
        own = socket.gethostname().lower()
        return name.rstrip(".") in {"localhost", own, f"{own.partition('.')[0]}.local"}
    return True


def _announce(port: int, args: argparse.Namespace) -> None:
    """Where to read it; for phones also as a code to point the camera at."""
    print(f"open http://localhost:{port}/ (ends with Ctrl-C; a change of the plan shows by itself)")
    if not args.lan:
        return
    if args.view == "crew":
        print("everyone in this network can now read the pages of the crew; `--view guest` shows less")
    address = lan_address()
    if address:
        import segno

        url = f"http://{address}:{port}/"
        print(f"phones: {url}")
        if sys.stdout.isatty():
            segno.make(url, micro=False).terminal(compact=True)


def lan_address() -> str:
    """The address of this machine in its network; empty where it has none. Nothing is sent."""
    import socket

    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # a datagram socket only chooses its way here: 192.0.2.1 is kept for documentation (RFC 5737)
            probe.connect(("192.0.2.1", 9))
        except OSError:
            return ""
        return str(probe.getsockname()[0])
