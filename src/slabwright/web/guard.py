"""Who may ask: this machine's own pages, and nothing else in the browser.

The app listens on loopback, but any page in the browser can send requests there, and
any name can be made to point there. So Host is compared with the app's own names, and
a request that a browser marks as coming from another page is refused.
"""

from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from contextlib import suppress
from typing import Any, Final

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; "
    "font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'"
)
"""What a page may load and run: the app's own files, nothing written into the page."""

MOST_BYTES: Final = 2 * 1024 * 1024
"""Largest body of a request; a card is at most 1 MiB, a form writes it longer."""
MOST_UPLOAD_BYTES: Final = 256 * 1024 * 1024
"""Largest upload of photos, kitchens and back-ups."""
_HEADERS: Final = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}
_READS: Final = {"GET", "HEAD"}


class Guard:
    """Refuses what comes from elsewhere or is too large; seals every answer."""

    def __init__(
        self, app: App, hosts: Iterable[str], is_upload: Callable[[str], bool]
    ) -> None:
        """Nothing is asked yet.

        Args:
            app: what is guarded.
            hosts: names with ports that it answers to.
            is_upload: whether an address may be sent more than a form.
        """
        self._app = app
        self._hosts = frozenset(host.casefold() for host in hosts)
        self._is_upload = is_upload

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or refuse it."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        refused = self._refused(scope["method"], headers)
        sealed = _sealed(send)
        if refused:
            response = PlainTextResponse(refused + "\n", status_code=403)
            await response(scope, receive, sealed)
            return
        most = MOST_UPLOAD_BYTES if self._is_upload(scope["path"]) else MOST_BYTES
        size = headers.get("content-length", "0")
        if not size.isdecimal() or int(size) > most:
            await _too_large(most)(scope, receive, sealed)
            return
        counted = _Counted(receive, most)

        async def unless_over(message: Message) -> None:
            if not counted.is_over:
                await sealed(message)

        with suppress(_TooLargeError):
            await self._app(scope, counted, unless_over)
        if counted.is_over:
            await _too_large(most)(scope, receive, sealed)

    def _refused(self, method: str, headers: Headers) -> str:
        """Why this request is refused; empty if it is not."""
        if headers.get("host", "").casefold() not in self._hosts:
            return "This app answers to its own address on this machine alone."
        origin = headers.get("origin")
        if origin is not None and origin not in {f"http://{h}" for h in self._hosts}:
            return "Another page asked for this; only the app's own pages may."
        site = headers.get("sec-fetch-site", "none")
        if site in {"none", "same-origin"}:
            return ""
        is_visit = (
            method in _READS
            and headers.get("sec-fetch-mode") == "navigate"
            and headers.get("sec-fetch-dest") == "document"
        )
        return "" if is_visit else "Another page asked for this; open it here instead."


def _too_large(most: int) -> PlainTextResponse:
    said = f"That is more than {most // 1024 // 1024} MiB. Send it in parts.\n"
    return PlainTextResponse(said, status_code=413)


class _TooLargeError(Exception):
    """A body went on longer than it may."""


class _Counted:
    """Receives a body and counts it: its length may not be said, or said wrongly."""

    def __init__(self, receive: Receive, most: int) -> None:
        self._receive = receive
        self._left = most

    @property
    def is_over(self) -> bool:
        """Whether more came than may."""
        return self._left < 0

    async def __call__(self) -> Message:
        message = await self._receive()
        self._left -= len(message.get("body", b""))
        if self.is_over:
            raise _TooLargeError
        return message


def _sealed(send: Send) -> Send:
    """Send with the headers that every answer carries, unless it has its own."""

    async def sealed(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("Cache-Control", "no-store")
        await send(message)

    return sealed
