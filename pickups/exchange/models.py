"""Lists that were read and wait for a person's word, or are being written."""

import uuid

from django.db import models


class Import(models.Model):
    """One file that was read. Nothing of it is written before `agreed_at`.

    lines: what was read, in the order of writing, (list, sheet, row, cells by column); emptied when
    all is written. found: headings, unknown columns and what was said of the reading. marks: what
    was agreed to, a sign a line that writes something. done: lines that are behind us. written: how
    many of each list became new, changed, or were as they are. left_out: faults found on the way.
    """

    uid = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    name = models.CharField(max_length=120)
    by = models.UUIDField(null=True)
    made_at = models.DateTimeField()
    lines = models.JSONField()
    found = models.JSONField()
    total = models.PositiveIntegerField()
    marks = models.JSONField(null=True)
    agreed_at = models.DateTimeField(null=True)
    done = models.PositiveIntegerField(default=0)
    written = models.JSONField(default=dict)
    left_out = models.JSONField(default=list)
    finished_at = models.DateTimeField(null=True)

    class Meta:
        db_table = "exchange_import"
        indexes = (models.Index(fields=["made_at"], name="import_made_at"),)
