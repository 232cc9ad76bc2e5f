"""Can one crew be promised twice? Never: the database itself refuses, on both engines.

PostgreSQL has an exclusion constraint over (crew, time span). SQLite has one writer at a time and
triggers; a migration that rebuilds the table drops them, so they are put back after every migrate.
A hold counts like a booking; one that has run out is let go by whoever wants its time (`holds.py`).
"""

from django.db import connections

NAME = "booking_no_overlap"
POSTGRES = """
CREATE EXTENSION IF NOT EXISTS btree_gist;
DO $$ BEGIN
  IF NOT EXISTS (SELECT 1 FROM pg_constraint WHERE conname = 'booking_no_overlap'
                 AND pg_get_constraintdef(oid) LIKE '%held%') THEN
    ALTER TABLE bookings_booking DROP CONSTRAINT IF EXISTS booking_no_overlap;
    ALTER TABLE bookings_booking ADD CONSTRAINT booking_no_overlap EXCLUDE USING gist
      (crew_id WITH =, tstzrange(starts_at, ends_at, '[)') WITH &&)
      WHERE (state IN ('booked', 'held'));
  END IF;
END $$;
"""
SQLITE = """
CREATE TRIGGER {name}_{event} BEFORE {event} ON bookings_booking
WHEN NEW.state IN ('booked', 'held') AND EXISTS (
  SELECT 1 FROM bookings_booking other
  WHERE other.crew_id = NEW.crew_id AND other.state IN ('booked', 'held') AND other.id IS NOT NEW.id
    AND other.starts_at < NEW.ends_at AND NEW.starts_at < other.ends_at)
BEGIN SELECT RAISE(ABORT, '{name}'); END;
"""


def ensure(using: str) -> None:
    """Put the guard of one database in place, if the table is there."""
    connection = connections[using]
    if "bookings_booking" not in connection.introspection.table_names():
        return
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute(POSTGRES)
        else:
            for event in ("INSERT", "UPDATE"):
                cursor.execute(f"DROP TRIGGER IF EXISTS {NAME}_{event}")
                cursor.execute(SQLITE.format(name=NAME, event=event))
