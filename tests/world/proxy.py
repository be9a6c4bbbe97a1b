"""A TCP proxy on loopback that can lose an answer: the server has it done, the phone never hears.

One thread a direction; nothing is parsed but the first bytes of a request.
"""

import contextlib
import socket
import threading
from collections.abc import Callable


class Proxy:
    """Forwards to `upstream`; `lose_answer_to` names the request line whose answer is lost."""

    def __init__(self, upstream: int) -> None:
        self.upstream = upstream
        self.lose_answer_to: bytes | None = None
        self.on_lost: Callable[[], None] = lambda: None
        self.lost = 0
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.port: int = self._listener.getsockname()[1]
        threading.Thread(target=self._accept, daemon=True).start()

    def close(self) -> None:
        """Take no more connections."""
        self._listener.close()

    def _accept(self) -> None:
        while True:
            try:
                near, _ = self._listener.accept()
            except OSError:
                return
            threading.Thread(target=self._serve, args=(near,), daemon=True).start()

    def _serve(self, near: socket.socket) -> None:
        try:
            far = socket.create_connection(("127.0.0.1", self.upstream), timeout=5)
        except OSError:
            near.close()
            return
        far.settimeout(None)
        asked: list[bytes] = [b""]
        back = threading.Thread(target=self._back, args=(near, far, asked), daemon=True)
        back.start()
        with contextlib.suppress(OSError):
            while data := near.recv(65536):
                if data[:5] in (b"POST ", b"GET /", b"PUT /"):
                    asked[0] = data.split(b"\r\n", 1)[0]
                far.sendall(data)
        _end(far)

    def _back(self, near: socket.socket, far: socket.socket, asked: list[bytes]) -> None:
        with contextlib.suppress(OSError):
            while data := far.recv(65536):
                wanted = self.lose_answer_to
                if wanted is not None and wanted in asked[0]:
                    self.lose_answer_to = None
                    self.on_lost()
                    self.lost += 1
                    break
                near.sendall(data)
        _end(near)
        _end(far)


def _end(end: socket.socket) -> None:
    with contextlib.suppress(OSError):
        end.shutdown(socket.SHUT_RDWR)
    end.close()
