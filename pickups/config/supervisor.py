"""`make run`: database, broker, mail, web, worker and beat in one foreground process.

What DATABASE_URL, REDIS_URL or EMAIL_URL name is used as given and not started here. A second
run over the same data is refused; Ctrl-C or SIGTERM stops all, the data last. A taken port is
named and the next free one used; what cannot be mended here is said in one sentence. It serves
and decides nothing itself.
"""

import os
import signal
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import psycopg
from django.core.exceptions import ImproperlyConfigured

from pickups.config import children, embedded, places, ports
from pickups.config import environment as env
from pickups.config.embedded_postgres import Postgres
from pickups.config.embedded_valkey import Valkey

PORT, MAIL_PORT = 8000, 1025
MAIL_TRIES = 5
LOOK_EVERY_S, TELL_WITHIN_S, DATABASE_WITHIN_S = 0.2, 120, 10
TRY = """\
Sign in at the office in one window, show a code under Phones, open the phone app in another
window and pick a casing up. Switch the network off before you save: the line at the bottom says
what waits, and it leaves by itself when the network is back."""
# Of Django's own, not of the server's: psycopg would refuse them.
_DJANGOS_OPTIONS = {"isolation_level", "server_side_binding", "pool", "assume_role", "service"}


class Stopped(Exception):
    """Somebody asked to stop before everything was up."""


class Supervisor:
    def __init__(self, var: Path) -> None:
        self.var = var
        self.began = time.monotonic()
        self.log = children.Log(var / "yardloop.log")
        self.stopping = threading.Event()
        self.services: list[embedded.Service] = []
        self.chosen = places.Running()
        self.host = env.text("HOST", "127.0.0.1")

    def say(self, line: str) -> None:
        self.log.say("start", f"[{time.monotonic() - self.began:5.1f} s] {line}")

    def run(self) -> None:
        for sig in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(sig, lambda *_: self.stopping.set())
        try:
            self._choose_ports()
            self._start_data()
            self._prepare()
            self._start_programs()
            self._watch()
        except Stopped:
            pass
        finally:
            self._stop()

    def _choose_ports(self) -> None:
        left = places.running(self.var).get("children", [])
        children.end_leftovers([(pid, born) for pid, born in left], self.log)
        wanted = env.number("PORT", PORT, least=1, most=65535)
        port = self.chosen["port"] = ports.choose("PORT", self.host, wanted, say=self.say)
        if not env.given("EMAIL_URL"):
            self.chosen["mail_port"] = ports.choose(
                "The mail port", "127.0.0.1", MAIL_PORT, say=self.say, never={port}
            )
        self._write()
        os.environ["PORT"] = str(self.chosen["port"])  # ours and the children's
        from pickups.config import settings  # reads what was just written; fails with a sentence

        self.settings = settings
        self.chosen["url"] = settings.PUBLIC_BASE_URL  # what a second run would say
        self._write()

    def _start_data(self) -> None:
        if self.settings.EMBEDDED_DATABASE:
            postgres = Postgres(self.var)
            self._start(postgres)
            if postgres.data.parent != self.var:  # below a private folder: see embedded_postgres
                self.say(f"the database's files lie in {postgres.data}")
        else:
            look_for_database(self.settings.DATABASES["default"])
        if self.settings.EMBEDDED_BROKER:
            self._start(Valkey(self.var))
        if self.services:
            self.say(f"{' and '.join(one.name for one in self.services)} answer")

    def _start(self, service: embedded.Service) -> None:
        self.services.append(service)
        service.start()

    def _prepare(self) -> None:
        mail = self._start_mail() if self.settings.EMBEDDED_MAIL else None
        # A migration may take longer than any request may, and think in between.
        no_end = {"DATABASE_TRANSACTION_TIMEOUT": "0", "DATABASE_IDLE_TIMEOUT": "0"}
        self._once("migrate", "migrate", "--noinput", **no_end)
        self.say("the tables are current")
        # What an older release could not read, this one perhaps can.
        self._once("held", "retry_held")
        if self.settings.EMBEDDED_DATABASE:
            self._once("demo", "load_demo")
            self.say("the demo data are there")
        if mail is not None:
            self._settle_mail(mail)

    def _start_mail(self) -> children.Child:
        mail = children.Child("mail", self._receiver(), self._environment(), self.log)
        self._start(mail)
        return mail

    def _settle_mail(self, mail: children.Child) -> None:
        """Waits until mails are received, before anybody reads where. A port that somebody took
        since it was chosen gives way to the next free one."""
        tries = 1
        while not mail.listens(self.chosen["mail_port"]):
            if self.stopping.wait(0.02):
                raise Stopped
            if mail.process is None or mail.process.poll() is None:
                continue
            if tries == MAIL_TRIES:
                return  # it is no port that it lacks: kept like the others, and loud
            tries += 1
            never = {self.chosen["port"]}
            self.chosen["mail_port"] = ports.choose(
                "The mail port", "127.0.0.1", self.chosen["mail_port"], say=self.say, never=never
            )
            mail.command = self._receiver()
            mail.start()

    def _receiver(self) -> list[str]:
        port = str(self.chosen["mail_port"])
        python = [sys.executable, "-m"]
        return [*python, "pickups.config.mailbox", port, str(self.settings.MAIL_DIR)]

    def _once(self, name: str, *command: str, **env: str) -> None:
        """Runs one of manage.py's commands to its end, or to ours."""
        step = children.Child(
            name,
            [sys.executable, "manage.py", *command],
            {**self._environment(), **env},
            self.log,
        )
        step.start()
        assert step.process is not None
        while step.process.poll() is None:
            if self.stopping.wait(0.02):
                step.stop()
                raise Stopped
        if step.process.returncode:
            raise embedded.CannotStart(f"`manage.py {' '.join(command)}` failed; its log is above.")

    def _environment(self) -> dict[str, str]:
        return {
            **os.environ,
            "PYTHONUNBUFFERED": "1",
            # Tasks come from our own broker as JSON, so a worker of root is no danger here.
            "PYTHONWARNINGS": "ignore:You're running the worker",
        }

    def _start_programs(self) -> None:
        self._write()  # where mails are received, which the programs read
        for name, command in self._programs().items():
            self._start(children.Child(name, command, self._environment(), self.log))
        self._write()

    def _programs(self) -> dict[str, list[str]]:
        python = [sys.executable, "-m"]
        celery = [*python, "celery", "-q", "-A", "pickups.config.celery"]
        threads = str(env.number("WEB_THREADS", 4, least=1, most=64))
        workers = str(env.number("WEB_WORKERS", 2, least=1, most=64))
        web = [
            *(*python, "granian", "--interface", "wsgi", "--no-ws", "--log-level", "warning"),
            "--no-access-log",  # it would write the tokens of mailed links down
            *("--host", self.host, "--port", str(self.chosen["port"])),
            *("--workers", workers, "--blocking-threads", threads, "--respawn-failed-workers"),
            # A worker that is told to stop while it starts does not hear it.
            *("--workers-kill-timeout", "10"),
            "pickups.config.wsgi:application",
        ]
        tasks = str(env.number("TASK_WORKERS", 2, least=1, most=64))
        forecasts = str(env.number("FORECAST_WORKERS", 2, least=1, most=64))
        worker = [*celery, "worker", "-l", "WARNING", "--without-gossip", "--without-mingle"]
        return {
            "web": web,
            "worker": [*worker, "-c", tasks, "-Q", "celery"],
            "forecast": [*worker, "-c", forecasts, "-Q", "forecast", "-n", "forecast@%h"],
            "beat": [*celery, "beat", "-l", "WARNING", "--pidfile="],
        }

    def _watch(self) -> None:
        kept = [children.Kept(service, self.log, self._write) for service in self.services]
        welcomed = False
        while not self.stopping.wait(LOOK_EVERY_S if welcomed else 0.05):
            for one in kept:
                one.look()
            if not welcomed and answers(self.host, self.chosen["port"]):
                welcomed = True
                self._welcome()

    def _welcome(self) -> None:
        self.say("the first page is served")
        url = self.settings.PUBLIC_BASE_URL
        lines = ["", f"Yardloop is at {url}/", ""]
        lines += [f"  the office     {url}/office/", f"  the phone app  {url}/app/"]
        if self.settings.EMBEDDED_MAIL:
            lines.append(f"  caught mails   {url}/mail/")
        lines.append("")
        if self.settings.EMBEDDED_DATABASE:
            lines += [*self._told("load_demo", "--sign-ins"), "", *TRY.splitlines(), ""]
        for line in [*lines, "Ctrl-C stops everything; the data stay."]:
            self.log.say("start", line)

    def _told(self, *command: str) -> list[str]:
        """What one of manage.py's commands says; the last words of one that fails."""
        run = [sys.executable, "manage.py", *command]
        told = subprocess.run(
            run,
            cwd=places.PROJECT,
            env=self._environment(),
            capture_output=True,
            text=True,
            check=False,
            timeout=TELL_WITHIN_S,
        )
        return told.stderr.splitlines()[-1:] if told.returncode else told.stdout.splitlines()

    def _write(self) -> None:
        self.chosen["children"] = children.births(self.services)
        places.write_running(self.var, self.chosen)

    def _stop(self) -> None:
        self.log.say("start", "stops")
        programs = [one for one in self.services if isinstance(one, children.Child)]
        for program in programs:  # all at once, each may take its time to finish its work
            program.ask_to_stop()
        for service in [*programs, *reversed(self.services)]:
            service.stop()
        (self.var / "running.json").unlink(missing_ok=True)
        self.log.say("start", f"stopped after {time.monotonic() - self.began:.1f} s")


def look_for_database(named: Mapping[str, Any]) -> None:
    """Says in a sentence what is wrong with DATABASE_URL, before anything is started on it."""
    options = {k: v for k, v in named.get("OPTIONS", {}).items() if k not in _DJANGOS_OPTIONS}
    where = f"{named['HOST'] or 'this machine'}, database {named['NAME']!r}"
    try:
        psycopg.connect(
            host=named["HOST"] or None,
            port=named["PORT"] or None,
            user=named["USER"] or None,
            password=named["PASSWORD"] or None,
            dbname=named["NAME"],
            **{"connect_timeout": DATABASE_WITHIN_S, **options},
        ).close()
    except psycopg.Error as wrong:
        why = " ".join(str(wrong).split()) or type(wrong).__name__
        raise embedded.CannotStart(
            f"DATABASE_URL names {where}, and it cannot be used: {why}"
        ) from None


def answers(host: str, port: int) -> bool:
    reach = {"0.0.0.0": "127.0.0.1", "::": "[::1]"}.get(host, host)  # noqa: S104
    try:
        with urllib.request.urlopen(f"http://{reach}:{port}/healthz", timeout=2):
            return True
    except urllib.error.HTTPError:  # it serves, though not to this name
        return True
    except OSError:
        return False


def main() -> None:
    children.main_thread_only()
    var = places.var_dir()
    try:
        with embedded.only_one(var / "lock"):
            Supervisor(var).run()
    except embedded.RunsAlready as wrong:
        url = places.running(var).get("url")
        sys.exit(f"Yardloop cannot start: {wrong}" + (f" It is at {url}/" if url else ""))
    except (embedded.CannotStart, ImproperlyConfigured, subprocess.SubprocessError) as wrong:
        sys.exit(f"Yardloop cannot start: {wrong}")


if __name__ == "__main__":
    main()
