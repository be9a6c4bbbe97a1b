"""Receives the product's mails when no mail server is named, and keeps each as a file.

Started by the supervisor as `python -m pickups.config.mailbox PORT FOLDER`. Listens on this
machine alone and passes nothing on. A mail is acknowledged only when its file is on disk.
The page that shows them is mailbox_pages.py.
"""

import os
import signal
import sys
import time
import uuid
from pathlib import Path

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, Envelope, Session

MAIL_MAX_BYTES = 10 * 1024 * 1024


def keep(folder: Path, content: bytes) -> Path:
    """Names sort by arrival. The file appears whole or not at all."""
    name = f"{time.time_ns():020d}-{uuid.uuid4().hex}"
    new = folder / f"{name}.new"
    with open(os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    kept = folder / f"{name}.eml"
    new.rename(kept)
    return kept


class Mailbox:
    """The handler that the SMTP server calls once a mail is complete."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)

    async def handle_DATA(  # noqa: N802 - the server looks for this name
        self, server: SMTP, session: Session, envelope: Envelope
    ) -> str:
        content = envelope.original_content or b""
        keep(self.folder, content)
        print(f"a mail to {', '.join(envelope.rcpt_tos)}", flush=True)
        return "250 kept"


def main(port: int, folder: Path) -> None:
    controller = Controller(
        Mailbox(folder), hostname="127.0.0.1", port=port, data_size_limit=MAIL_MAX_BYTES
    )
    signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGTERM, signal.SIGINT})
    try:
        controller.start()
    except OSError as wrong:
        # The mails are owed still, and are sent once the port is ours.
        sys.exit(f"port {port} cannot be listened on: {os.strerror(wrong.errno or 0)}")
    print(f"mails are received on port {port}", flush=True)
    signal.sigwait({signal.SIGTERM, signal.SIGINT})
    controller.stop()


if __name__ == "__main__":
    main(int(sys.argv[1]), Path(sys.argv[2]))
