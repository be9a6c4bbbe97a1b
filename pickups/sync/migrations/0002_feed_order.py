"""The feed's order is set by the database: transaction id and a number, on insert and update."""

from django.db import migrations

FORWARD = """
CREATE SEQUENCE sync_feed_seq OWNED BY sync_feed.seq;
CREATE FUNCTION sync_feed_stamp() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  NEW.xid := pg_current_xact_id();
  NEW.seq := nextval('sync_feed_seq');
  RETURN NEW;
END $$;
CREATE TRIGGER sync_feed_order BEFORE INSERT OR UPDATE ON sync_feed
  FOR EACH ROW EXECUTE FUNCTION sync_feed_stamp();
INSERT INTO sync_feed_state (id, epoch, horizon) VALUES (1, gen_random_uuid(), '0'::xid8);
"""
BACK = """
DELETE FROM sync_feed_state;
DROP TRIGGER sync_feed_order ON sync_feed;
DROP FUNCTION sync_feed_stamp();
DROP SEQUENCE sync_feed_seq;
"""


class Migration(migrations.Migration):
    dependencies = [("sync", "0001_initial")]
    operations = [migrations.RunSQL(FORWARD, BACK)]
