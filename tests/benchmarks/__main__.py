"""Is the service as fast as it says? `python tests/benchmarks`: each request against a stock create.

Starts a server on loopback with its own database, sends a fixed number of rounds, prints a table,
writes `.artefacts/benchmark-<database>.json`, and exits 1 when a survey with its verdict, or the rules
by themselves for one kit, take more than they may against a stock create. Ratios hold on any machine
that has nothing else to do; milliseconds are this machine's own.
"""

import argparse
import json
import os
import sys
from dataclasses import asdict

from calls import Script
from measure import BASE, Plan, Result, measured
from service import ROOT, service

SHORT, LONG = Plan(batches=5, rounds=40), Plan(batches=8, rounds=75)
MOST = {"survey, 19 readings": 3.0, "survey, 6 readings": 3.0, "verdict for one kit": 0.5}


def main() -> int:
    """Measure, print, keep, judge."""
    asked = _arguments()
    plan = SHORT if asked.short else LONG
    kind = "postgresql" if asked.database.startswith("postgres") else "sqlite"
    with service(asked.database, asked.redis, plan.openings()) as seeded:
        result = measured(seeded["port"], Script(seeded), plan, MOST)
    _print(kind, result)
    folder = ROOT / ".artefacts"
    folder.mkdir(exist_ok=True)
    (folder / f"benchmark-{kind}.json").write_text(json.dumps(asdict(result), indent=1))
    return _judge(kind, result)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python tests/benchmarks", description=__doc__)
    parser.add_argument("--short", action="store_true", help="fewer rounds, for the gate")
    parser.add_argument(
        "--database",
        default=os.environ.get("DATABASE_URL", ""),
        help="a PostgreSQL URL, beside whose database an own one is made; default DATABASE_URL, "
        "else SQLite",
    )
    parser.add_argument("--redis", default=os.environ.get("REDIS_URL", ""), help="a Redis URL")
    return parser.parse_args()


def _print(kind: str, result: Result) -> None:
    print(f"\n{kind}: ratio to `{BASE}`, median of batches, lowest to highest batch")
    for name, ratio in result.ratio.items():
        low, high = result.span[name]
        row = f"  {name:24}{ratio:7.2f}   {low:5.2f} - {high:5.2f}"
        print(f"{row}{result.p50_ms[name]:10.2f} ms")
    patch = result.p50_ms["customer patch"] / result.p50_ms["bare patch"]
    print(f"  customer patch / bare patch {patch:.2f}")


def _judge(kind: str, result: Result) -> int:
    if not result.quiet:
        print(f"{kind}: the machine was too restless to judge after {result.tries} tries.")
        return 1
    slow = result.over(MOST)
    for name, ratio in slow.items():
        print(f"{kind}: {name} takes {ratio:.2f}, more than {MOST[name]:.1f}, in each of the runs.")
    return 1 if slow else 0


if __name__ == "__main__":
    sys.exit(main())
