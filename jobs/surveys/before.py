"""What must be known before a survey is judged? Opening, earlier surveys and sheet, asked at once."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db import connection
from django.db.models import Model, UUIDField

from contractor.api.problems import Problem
from contractor.api.together import Query, select_together
from contractor.customers.models import Site
from fitcheck.kits.models import Kit, RuleSheet
from fitcheck.kits.services import sheet_find, version_of
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.surveys.models import Survey

OPENING_COLUMNS = ("id", "job_id", "enclosure", "stands_on", "shower_head_side", "kit_id")
OPENING = """
SELECT o.id, o.job_id, o.enclosure, o.stands_on, o.shower_head_side, o.kit_id,
    j.site_id, s.year_built, k.slug, j.state,
    j.survey_again_at IS NULL AND EXISTS (
        SELECT 1 FROM openings_opening u
        WHERE u.id = (SELECT w.id FROM openings_opening w WHERE w.job_id = o.job_id AND w.id <> o.id
            ORDER BY w.id DESC LIMIT 1)
        AND u.dropped_why = '' AND NOT EXISTS (SELECT 1 FROM surveys_survey v WHERE v.opening_id = u.id))
FROM openings_opening o JOIN jobs_job j ON j.id = o.job_id JOIN customers_site s ON s.id = j.site_id
LEFT JOIN kits_kit k ON k.id = o.kit_id WHERE o.id = %s"""
# A statement of its own, after the lock: what the survey that came just before has written is seen.
EARLIER = """
SELECT id, opening_id, supersedes FROM surveys_survey WHERE opening_id = %s OR id = %s
ORDER BY received_at, id"""
SHEET = """
SELECT r.id, r.number, r.digest, r.kit_id, k.slug FROM kits_rulesheet r JOIN kits_kit k ON k.id = r.kit_id
WHERE k.slug = %s AND (r.number = %s OR CAST(%s AS bigint) IS NULL) ORDER BY r.number DESC LIMIT 1"""


@dataclass(frozen=True, slots=True)
class Before:
    """What stands before a survey is written.

    `is_known` when its id is there already; `others_wait` when the job's newest other opening was
    never surveyed, so that the job cannot move on by this survey; else its guards are asked.
    """

    opening: Opening
    earlier: list[Survey]
    is_known: bool
    sheet: RuleSheet | None
    others_wait: bool


def before_survey(*, opening: int, survey: UUID, kit: str | None) -> Before:
    """Lock the opening and read what a verdict needs; call it inside a transaction.

    Raises:
        Problem: no such opening, or no such sheet.
    """
    is_postgres = connection.vendor == "postgresql"
    lock = " FOR UPDATE OF o" if is_postgres else ""
    queries: list[Query] = [
        (OPENING + lock, [opening]),
        (EARLIER, [opening, survey if is_postgres else survey.hex]),
    ]
    if kit is not None:
        slug, number = version_of(kit)
        queries.append((SHEET, [slug, number, number]))
    openings, surveys, *sheets = select_together(*queries)
    if not openings:
        raise Problem(
            "does_not_exist",
            f"There is no O-{opening:04d}.",
            hint="Send one that exists.",
            pointer="/opening",
        )
    row = _opening(openings[0])
    rows = [_row(Survey, ("id", "opening_id", "supersedes"), one) for one in surveys]
    is_known = any(one.id == survey for one in rows)
    return Before(row, rows, is_known, _sheet(kit, sheets, row), bool(openings[0][10]))


def _sheet(
    kit: str | None, found: list[list[tuple[Any, ...]]], opening: Opening
) -> RuleSheet | None:
    """The sheet that was asked about, else the newest of the kit decided on."""
    if kit is None:
        return sheet_find(name=opening.kit.slug) if opening.kit else None
    if not found[0]:
        return sheet_find(name=kit)
    sheet: RuleSheet = _row(RuleSheet, ("id", "number", "digest", "kit_id"), found[0][0][:4])
    sheet.kit = _row(Kit, ("id", "slug"), found[0][0][3:])
    return sheet


def _opening(found: tuple[Any, ...]) -> Opening:
    opening: Opening = _row(Opening, OPENING_COLUMNS, found[:6])
    opening.job = _row(Job, ("id", "site_id", "state"), (opening.job_id, found[6], found[9]))
    opening.job.site = _row(Site, ("id", "year_built"), found[6:8])
    opening.kit = _row(Kit, ("id", "slug"), (opening.kit_id, found[8])) if opening.kit_id else None
    return opening


def _row(model: type[Model], names: tuple[str, ...], values: Sequence[Any]) -> Any:
    """Make a row of some of its columns; the others are fetched when somebody asks for them."""
    found = dict(zip(names, values, strict=True))
    fields = [one for one in model._meta.concrete_fields if one.attname in found]
    read = [_read(one, found[one.attname]) for one in fields]
    return model.from_db(None, [one.attname for one in fields], read)


def _read(field: Any, value: Any) -> Any:
    """SQLite gives a UUID as its digits."""
    return UUID(value) if isinstance(field, UUIDField) and isinstance(value, str) else value
