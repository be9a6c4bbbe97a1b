"""A mail server of the test's own, which can be told to refuse, and what it was given."""

import asyncio
import email
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from email.message import EmailMessage
from email.policy import default

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, Envelope, Session

from tests.world.stack import free_port


class MailServer:
    """Speaks SMTP on `port`. `refuse` holds addresses that it will not take, `gate` holds mails
    back in the middle of a conversation until it is set."""

    def __init__(self, port: int | None = None) -> None:
        self.port = port or free_port()
        self.mails: list[EmailMessage] = []
        self.refuse: dict[str, str] = {}
        self.gate = threading.Event()
        self.gate.set()
        self.arrived = threading.Event()

    async def handle_RCPT(  # noqa: N802 - the server looks for this name
        self, server: SMTP, session: Session, envelope: Envelope, address: str, options: list[str]
    ) -> str:
        if address in self.refuse:
            return self.refuse[address]
        envelope.rcpt_tos.append(address)
        return "250 taken"

    async def handle_DATA(  # noqa: N802
        self, server: SMTP, session: Session, envelope: Envelope
    ) -> str:
        self.arrived.set()
        await asyncio.get_running_loop().run_in_executor(None, self.gate.wait)
        mail = email.message_from_bytes(envelope.original_content or b"", policy=default)
        assert isinstance(mail, EmailMessage)
        self.mails.append(mail)
        return "250 kept"

    def to(self, address: str) -> list[EmailMessage]:
        """The mails to one address."""
        return [mail for mail in self.mails if address in str(mail["To"])]


def text_of(mail: EmailMessage) -> str:
    """What a mail says, with plain line ends."""
    return str(mail.get_content()).replace("\r\n", "\n")


@contextmanager
def running(server: MailServer) -> Iterator[MailServer]:
    """The server, listening."""
    controller = Controller(server, hostname="127.0.0.1", port=server.port)
    controller.start()
    try:
        yield server
    finally:
        server.gate.set()
        controller.stop()
