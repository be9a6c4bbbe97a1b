"""The queue's door to the sync: held operations are tried again."""

from celery import shared_task

from pickups.sync import push


@shared_task(name="sync.retry_held", ignore_result=True)
def retry_held() -> int:
    """Try those whose awaited operation has arrived meanwhile."""
    return push.retry_held()
