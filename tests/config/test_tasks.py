"""What beat sends, a worker knows; and no task ever runs in the process that sends it."""

from typing import Any

from django.conf import settings

from pickups.config.celery import app


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


def test_tasks_are_never_run_eagerly() -> None:
    assert app.conf.task_always_eager is False
    assert app.conf.task_acks_late is True
    assert app.conf.task_publish_retry is False
