"""A real Chromium, driven over two pipes with the standard library: what a page asks for, says and draws.

The DevTools protocol: JSON messages ended by a zero byte; descriptor 3 goes to the browser, 4 comes from it.
"""

from __future__ import annotations

import base64
import contextlib
import fcntl
import json
import os
import select
import shutil
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

NAMES = ("chromium", "chromium-browser", "google-chrome")
FLAGS = (
    "--headless",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--no-default-browser-check",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-extensions",
    "--disable-dev-shm-usage",
    "--hide-scrollbars",
    # The network is off: no name resolves.
    "--host-resolver-rules=MAP * ~NOTFOUND",
    "--remote-debugging-pipe",
)
# Puts the two pipes where the browser looks for them, then becomes the browser.
_BECOME = "import os; from sys import argv as a; os.dup2(int(a[1]),3); os.dup2(int(a[2]),4); os.execv(a[3],a[3:])"


def find_chromium() -> str | None:
    """Path of a Chromium: the one LONGMILE_CHROMIUM names, else the first of NAMES on the PATH, else None."""
    named = os.environ.get("LONGMILE_CHROMIUM")
    if named:
        return shutil.which(named)
    return next((found for name in NAMES if (found := shutil.which(name))), None)


@dataclass
class Visit:
    """An open page. requests: addresses asked for; errors: console errors and exceptions; dialogs: texts."""

    browser: Chromium
    session: str
    requests: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)
    dialogs: list[str] = field(default_factory=list)
    is_loaded: bool = False

    def evaluate(self, expression: str) -> Any:
        """Value of a JavaScript expression; a promise is waited for. RuntimeError where it throws."""
        answer = self.browser.send(
            "Runtime.evaluate",
            {"expression": expression, "awaitPromise": True, "returnByValue": True},
            self.session,
        )
        if "exceptionDetails" in answer:
            raise RuntimeError(str(answer["exceptionDetails"]))
        return answer["result"].get("value")

    def screenshot(self, path: Path) -> Path:
        """The whole page as a PNG."""
        answer = self.browser.send(
            "Page.captureScreenshot", {"format": "png", "captureBeyondViewport": True}, self.session
        )
        path.write_bytes(base64.b64decode(answer["data"]))
        return path

    def pdf(self, path: Path) -> Path:
        """The page as printed."""
        answer = self.browser.send(
            "Page.printToPDF", {"printBackground": True, "preferCSSPageSize": True}, self.session
        )
        path.write_bytes(base64.b64decode(answer["data"]))
        return path

    def take(self, method: str, params: dict[str, Any]) -> None:
        """One event of this page, kept."""
        if method == "Network.requestWillBeSent":
            self.requests.append(params["request"]["url"])
        elif method == "Runtime.exceptionThrown":
            self.errors.append(json.dumps(params["exceptionDetails"])[:500])
        elif method == "Runtime.consoleAPICalled" and params["type"] in ("error", "assert"):
            self.errors.append(json.dumps(params["args"])[:500])
        elif method == "Log.entryAdded" and params["entry"]["level"] == "error":
            self.errors.append(params["entry"]["text"])
        elif method == "Page.javascriptDialogOpening":
            self.dialogs.append(params["message"])
            self.browser.post("Page.handleJavaScriptDialog", {"accept": False}, self.session)
        elif method == "Page.loadEventFired":
            self.is_loaded = True

    def close(self) -> None:
        """Close the page."""
        self.browser.send("Page.close", {}, self.session)


class Chromium:
    """A running browser with a profile of its own; use as a context manager."""

    def __init__(self, path: str, timeout: float = 60.0) -> None:
        self.timeout = timeout
        self._number = 0
        self._buffer = b""
        self._answers: dict[int, dict[str, Any]] = {}
        self._visits: dict[str, Visit] = {}
        self._profile = tempfile.mkdtemp(prefix="longmile-chromium-")
        there, self._write = (_high(end) for end in os.pipe())
        self._read, back = (_high(end) for end in os.pipe())
        as_root = ("--no-sandbox",) if hasattr(os, "geteuid") and os.geteuid() == 0 else ()
        browser = (path, *FLAGS, *as_root, f"--user-data-dir={self._profile}", "about:blank")
        self._process = subprocess.Popen(
            [sys.executable, "-c", _BECOME, str(there), str(back), *browser],
            pass_fds=(there, back),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        os.close(there)
        os.close(back)

    def __enter__(self) -> Chromium:
        return self

    def __exit__(self, *_: object) -> None:
        self.quit()

    def open(
        self,
        page: Path,
        *,
        width: int = 1280,
        height: int = 900,
        is_dark: bool = False,
        has_scripts: bool = True,
        is_phone: bool = False,
    ) -> Visit:
        """The page opened from disk at that width, with the network off, once it has loaded."""
        target = self.send("Target.createTarget", {"url": "about:blank"})["targetId"]
        session = self.send("Target.attachToTarget", {"targetId": target, "flatten": True})["sessionId"]
        visit = self._visits[session] = Visit(self, session)
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.send(f"{domain}.enable", {}, session)
        offline = {"offline": True, "latency": 0, "downloadThroughput": 0, "uploadThroughput": 0}
        self.send("Network.emulateNetworkConditions", offline, session)
        metrics = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": is_phone}
        self.send("Emulation.setDeviceMetricsOverride", metrics, session)
        scheme = [{"name": "prefers-color-scheme", "value": "dark" if is_dark else "light"}]
        self.send("Emulation.setEmulatedMedia", {"features": scheme}, session)
        self.send("Emulation.setScriptExecutionDisabled", {"value": not has_scripts}, session)
        visit.is_loaded = False
        self.send("Page.navigate", {"url": page.resolve().as_uri()}, session)
        self._until(lambda: visit.is_loaded, f"{page.name} to load")
        return visit

    def send(self, method: str, params: dict[str, Any], session: str = "") -> dict[str, Any]:
        """The browser's answer to a command. RuntimeError where it refuses, TimeoutError if silent."""
        number = self.post(method, params, session)
        self._until(lambda: number in self._answers, method)
        answer = self._answers.pop(number)
        if "error" in answer:
            raise RuntimeError(f"{method}: {answer['error']}")
        result: dict[str, Any] = answer["result"]
        return result

    def post(self, method: str, params: dict[str, Any], session: str = "") -> int:
        """Number of a command that was sent; its answer is not waited for."""
        self._number += 1
        message = {"id": self._number, "method": method, "params": params}
        if session:
            message["sessionId"] = session
        os.write(self._write, json.dumps(message).encode() + b"\0")
        return self._number

    def _until(self, is_done: Any, what: str) -> None:
        """Take messages until the condition holds."""
        end = time.monotonic() + self.timeout
        while not is_done():
            left = end - time.monotonic()
            if left <= 0 or not select.select([self._read], [], [], left)[0]:
                raise TimeoutError(f"the browser gave no answer within {self.timeout:.0f} s: {what}")
            self._take()

    def _take(self) -> None:
        """Read what has come and hand out every whole message."""
        chunk = os.read(self._read, 1 << 20)
        if not chunk:
            raise RuntimeError(f"the browser ended, exit code {self._process.wait(10)}")
        *whole, self._buffer = (self._buffer + chunk).split(b"\0")
        for message in map(json.loads, whole):
            visit = self._visits.get(message.get("sessionId", ""))
            if "id" in message:
                self._answers[message["id"]] = message
            elif visit:
                visit.take(message["method"], message["params"])

    def quit(self) -> None:
        """End the browser and remove its profile."""
        with contextlib.suppress(OSError, RuntimeError, TimeoutError):
            self.send("Browser.close", {})
        with contextlib.suppress(OSError):
            os.close(self._write)
        try:
            self._process.wait(10)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait(10)
        os.close(self._read)
        shutil.rmtree(self._profile, ignore_errors=True)


def _high(descriptor: int) -> int:
    """The same descriptor at 10 or above, out of the way of 3 and 4."""
    moved = fcntl.fcntl(descriptor, fcntl.F_DUPFD_CLOEXEC, 10)
    os.close(descriptor)
    return moved
