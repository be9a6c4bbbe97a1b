"""The mail receiver keeps whole mails, and its page shows them as text to this machine alone."""

import smtplib
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from email.message import EmailMessage
from pathlib import Path

import pytest
from django.test import Client
from pytest_django import Settings

from pickups.config import mailbox, places
from tests.config.runs import free_port


def a_mail(subject: str, text: str, html: str = "") -> EmailMessage:
    message = EmailMessage()
    message["Subject"], message["From"], message["To"] = subject, "yard@localhost", "a@example.com"
    message.set_content(text)
    if html:
        message.add_alternative(html, subtype="html")
    return message


@pytest.fixture
def folder(tmp_path: Path, settings: Settings) -> Path:
    settings.EMBEDDED_MAIL = True
    settings.MAIL_DIR = tmp_path / "mail"
    settings.MAIL_DIR.mkdir()
    return tmp_path / "mail"


@pytest.fixture
def receiver(folder: Path) -> Iterator[int]:
    port = free_port()
    command = [sys.executable, "-m", "pickups.config.mailbox", str(port), str(folder)]
    with subprocess.Popen(command, cwd=places.PROJECT, stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert b"received on port" in process.stdout.readline()
        yield port
        process.terminate()
        assert process.wait(10) == 0


def test_a_mail_that_was_sent_is_listed_and_read(
    client: Client, receiver: int, folder: Path
) -> None:
    with smtplib.SMTP("127.0.0.1", receiver, timeout=10) as line:
        line.send_message(a_mail("Receipt für 12 casings", "Counted at the yard: 12"))
    assert [file.suffix for file in folder.iterdir()] == [".eml"]
    listed = client.get("/mail/").content.decode()
    assert "Receipt für 12 casings" in listed
    address = listed.split('href="/mail/')[1].split('"')[0]
    assert "Counted at the yard: 12" in client.get(f"/mail/{address}").content.decode()


def test_what_a_mail_says_is_shown_as_text_and_its_addresses_as_links(
    client: Client, folder: Path
) -> None:
    mail = a_mail(
        "<b>bold</b>",
        'see http://localhost:8000/c/1 and <script>alert("x")</script>',
        "<h1 onclick=x()>big</h1>",
    )
    name = mailbox.keep(folder, mail.as_bytes()).stem
    page = client.get(f"/mail/{name}/").content.decode()
    assert "<script>" not in page
    assert "<b>" not in page
    assert "&lt;h1 onclick=x()&gt;" in page
    assert 'href="http://localhost:8000/c/1"' in page
    assert "<b>" not in client.get("/mail/").content.decode()


def test_a_receiver_whose_port_is_taken_says_so_in_one_line(folder: Path) -> None:
    port = free_port()
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", port))
        taken.listen()
        command = [sys.executable, "-m", "pickups.config.mailbox", str(port), str(folder)]
        ended = subprocess.run(
            command, cwd=places.PROJECT, capture_output=True, text=True, check=False, timeout=30
        )
    assert ended.returncode == 1
    said = (ended.stdout + ended.stderr).splitlines()
    assert said == [f"port {port} cannot be listened on: Address already in use"]


def test_a_mails_time_is_the_dealers_and_the_page_speaks_two_languages(
    client: Client, folder: Path, settings: Settings
) -> None:
    settings.DEALER_TIME_ZONE = "America/Chicago"
    mail = a_mail("Receipt", "text")
    mail["Date"] = "Sat, 03 Jan 2026 15:05:00 +0000"
    name = mailbox.keep(folder, mail.as_bytes()).stem
    for address in ("/mail/", f"/mail/{name}/"):
        english = client.get(address, headers={"Accept-Language": "en"}).content.decode()
        spanish = client.get(address, headers={"Accept-Language": "es"}).content.decode()
        assert "Sat 3 Jan 2026, 09:05" in english
        assert "sáb 3 ene 2026, 09:05" in spanish
        assert "Fecha" in spanish
        assert 'lang="es"' in spanish


@pytest.mark.parametrize(
    "told", ["yesterday", "Sat, 99 Jan 2026 15:05:00 +0000", "Fri, 31 Dec 9999 23:59:59 -2359", ""]
)
def test_a_mail_with_a_time_that_is_none_shows_what_it_says(
    client: Client, folder: Path, told: str
) -> None:
    name = mailbox.keep(folder, f"Date: {told}\r\nSubject: odd\r\n\r\ntext".encode()).stem
    assert client.get("/mail/").status_code == 200
    assert told in client.get(f"/mail/{name}/").content.decode()


def test_the_newest_mail_is_listed_first(client: Client, folder: Path) -> None:
    for subject in ("an older one", "a younger one"):
        mailbox.keep(folder, a_mail(subject, "").as_bytes())
        time.sleep(0.001)
    listed = client.get("/mail/").content.decode()
    assert listed.index("a younger one") < listed.index("an older one")


def test_a_broken_mail_does_not_hide_the_others(client: Client, folder: Path) -> None:
    mailbox.keep(folder, a_mail("whole", "text").as_bytes())
    mailbox.keep(
        folder,
        b"Subject: =?nonsense?q?=FF?=\r\n"
        b"Content-Type: text/plain; charset=nobody-knows\r\n\r\n\xff",
    )
    mailbox.keep(folder, b"\x00\xff no headers at all")
    answer = client.get("/mail/")
    assert answer.status_code == 200
    assert "whole" in answer.content.decode()
    for file in folder.iterdir():
        assert client.get(f"/mail/{file.stem}/").status_code == 200


@pytest.mark.parametrize(
    "name", ["../secret_key", "%2e%2e%2fsecret_key", "0" * 20 + "-" + "0" * 32, "x"]
)
def test_no_other_file_is_read(client: Client, folder: Path, name: str) -> None:
    (folder.parent / "secret_key").write_text("secret")
    (folder.parent / "secret_key.eml").write_text("secret")
    (folder / "x.eml").write_text("secret")
    assert client.get(f"/mail/{name}/").status_code == 404


def test_another_machine_sees_no_mail_page(client: Client, folder: Path) -> None:
    assert client.get("/mail/").status_code == 200
    assert client.get("/mail/", REMOTE_ADDR="192.0.2.7").status_code == 404
    proxied = {"X-Forwarded-For": "192.0.2.7"}
    assert client.get("/mail/", headers=proxied).status_code == 404


def test_with_a_mail_server_named_there_is_no_mail_page(
    client: Client, folder: Path, settings: Settings
) -> None:
    settings.EMBEDDED_MAIL = False
    name = mailbox.keep(folder, a_mail("kept before", "").as_bytes()).stem
    assert client.get("/mail/").status_code == 404
    assert client.get(f"/mail/{name}/").status_code == 404
