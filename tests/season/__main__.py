"""Does a whole season leave the database whole? `python tests/season [--days 60] [--seed N]`.

Three crews with tablets, an office at its desk and a scheduling program work through so many working
days by a simulated clock, with the night in which the clocks go back in their middle. Customers do not
open, glass comes broken, people misread, replies get lost. Each reply is held against the schema; at
the end every invariant is asked of the whole database. Prints what happened; exits 1 on any breach.
"""

import argparse
import os
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.season.database import own_database

SEED = 20_261_101


def main() -> int:
    """Play, ask, print, judge."""
    parser = argparse.ArgumentParser(prog="python tests/season", description=__doc__)
    parser.add_argument("--days", type=int, default=60, help="working days")
    parser.add_argument("--enquiries", type=float, default=1.0, help="new jobs a working day")
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument(
        "--database",
        default=os.environ.get("DATABASE_URL", ""),
        help="a PostgreSQL URL, beside whose database an own one is made; default DATABASE_URL, "
        "else SQLite",
    )
    asked = parser.parse_args()
    start = time.monotonic()
    with own_database(asked.database):
        from tests.season.invariants import breaches_of
        from tests.season.report import report_of
        from tests.season.season import season_played

        season = season_played(seed=asked.seed, days=asked.days, enquiries=asked.enquiries)
        found = breaches_of(season)
        print("\n".join(report_of(season)))
    print(f"{time.monotonic() - start:.0f} s")
    for one in found:
        print(f"BREACH {one}")
    print("Every invariant holds." if not found else f"{len(found)} breaches.")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
