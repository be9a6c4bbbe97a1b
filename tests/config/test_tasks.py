"""What beat sends, a worker knows; and no task ever runs in the process that sends it."""

from pathlib import Path
from typing import Any

import pytest
from celery import Celery
from django.conf import settings

from pickups.config.celery import app
from pickups.config.supervisor import Supervisor


def test_every_task_that_beat_sends_exists() -> None:
    app.loader.import_default_modules()
    sent = {entry["task"] for entry in settings.CELERY_BEAT_SCHEDULE.values()}
    assert sent == {
        "curing.sweep",
        "custody.ask_one_sided",
        "custody.ask_unfinished",
        "custody.purge",
        "exchange.forget",
        "forecast.purge",
        "forecast.sweep",
        "inspection.sweep",
        "journal.drain",
        "notices.ask_unconfirmed",
        "people.purge",
        "people.tell_settings",
        "promises.compute_due",
        "promises.tell_due",
        "sync.forget_unsent",
        "sync.purge",
        "sync.retry_held",
    }
    assert sent <= set(app.tasks)


def test_a_sweep_that_was_not_taken_in_time_does_not_pile_up() -> None:
    schedule: dict[str, Any] = settings.CELERY_BEAT_SCHEDULE
    for entry in schedule.values():
        assert entry["options"]["expires"] <= entry["schedule"]


WAITS_IN = {
    "forecast.compute": "forecast",
    "forecast.suppose": "forecast",
    "forecast.sweep": "celery",
    "journal.drain": "celery",
}


@pytest.mark.parametrize("task", WAITS_IN)
def test_what_takes_long_waits_in_a_line_of_its_own(task: str) -> None:
    apart = Celery("apart", set_as_current=False)
    apart.config_from_object(settings, namespace="CELERY")
    apart.conf.update(broker_url="memory://", broker_transport_options={})
    with apart.connection_for_write() as broker:
        channel: Any = broker.default_channel
        for line in apart.amqp.queues.values():
            line(channel).declare()
            line(channel).purge()
        apart.send_task(task, connection=broker)
        waits = {
            name: channel.queue_declare(queue=name, passive=True).message_count
            for name in apart.amqp.queues
        }
    apart.close()
    assert waits == {"celery": 0, "forecast": 0} | {WAITS_IN[task]: 1}


def test_each_line_has_a_program_of_its_own(tmp_path: Path) -> None:
    supervisor = Supervisor(tmp_path)
    supervisor.chosen["port"] = 1
    programs = supervisor._programs()
    taken = [p[p.index("-Q") + 1] for p in programs.values() if "-Q" in p]
    assert sorted(taken) == sorted(queue.name for queue in settings.CELERY_TASK_QUEUES)
    assert sum("worker" in p for p in programs.values()) == len(taken)


def test_tasks_are_never_run_eagerly() -> None:
    assert app.conf.task_always_eager is False
    assert app.conf.task_acks_late is True
    assert app.conf.task_publish_retry is False
