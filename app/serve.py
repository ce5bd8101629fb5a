"""The app as a server: its pages, for this machine's own addresses alone.

A page from elsewhere that has its name point at this machine comes with that name as Host; one that asks from
within the browser comes with its Origin. Both are refused before anything of the app answers.
"""

from __future__ import annotations

import sys
from urllib.parse import urlsplit

import streamlit as st
from starlette.datastructures import Headers
from starlette.middleware import Middleware
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Receive, Scope, Send

_OWN = ("localhost", "127.0.0.1")


def own(host: str, origin: str | None) -> bool:
    """Whether a request is to this machine by its own name, and from no page of another address."""
    try:
        name = urlsplit(f"//{host}").hostname
    except ValueError:
        return False
    return name in _OWN and origin in (None, f"http://{host}")


class OnlyOwn:
    """Refuses what is not asked by this machine's own name."""

    def __init__(self, inner: ASGIApp) -> None:
        self.inner = inner

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Hand a request on, or refuse it."""
        headers = Headers(scope=scope) if scope["type"] in ("http", "websocket") else None
        if headers is None or own(headers.get("host", ""), headers.get("origin")):
            await self.inner(scope, receive, send)
        elif scope["type"] == "http":
            await PlainTextResponse("Refused: not asked by this machine.", 403)(scope, receive, send)
        else:
            await send({"type": "websocket.close", "code": 1008})


# A page is sent by one thread while another draws the next: 5 ms, as it is, is long to wait for one's turn.
sys.setswitchinterval(2e-4)

app = st.App("main.py", middleware=[Middleware(OnlyOwn)])
