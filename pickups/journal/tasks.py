"""The queue's door to the journal: drain what is owed. Poked after a commit and swept by beat."""

from celery import shared_task

from pickups.journal import services


@shared_task(name="journal.drain", ignore_result=True)
def drain() -> int:
    """Run everything that is due, a hundred at a time, until nothing is."""
    total = 0
    while done := services.drain():
        total += done
    return total
