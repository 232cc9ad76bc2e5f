"""Does a screw in a steel stud hold what it gets, and may the stud be asked at all?"""

from dataclasses import dataclass

from fitcheck.rules.compare import Asked, compared, spoken
from fitcheck.rules.demand import Bracket, Case
from fitcheck.rules.finding import Finding, State, exactly
from fitcheck.rules.force import force_json, share_text, spoken_finding
from fitcheck.rules.length import NM_PER_INCH, mm_text
from fitcheck.rules.screws import screw_major_nm, screw_number
from fitcheck.rules.steel_stud import (
    GaugeError,
    Sheets,
    SteelCapacity,
    mils_parse,
    steel_holds,
    steel_screw_least_nm,
    steel_spacing_nm,
    steel_strength,
    steel_used,
)
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import House
from fitcheck.rules.tables_fixings import (
    ALUMINIUM_ULTIMATE,
    STEEL_DESIGN_THICKNESS,
    STEEL_HEAD,
    STEEL_INTERACTION,
    STEEL_LEAST_MILS,
    STEEL_SHEAR,
    STEEL_SPACING,
    TIGHT_FROM,
)

STEEL = ("kind", "thickness", "screw", "off_centre")


@dataclass(frozen=True, slots=True)
class SteelAsked:
    """A screw through a bracket into a steel stud; `refusal` says why the stud may not be asked."""

    mils: int
    refusal: str
    number: int
    bracket_in: float
    bracket_psi: float
    stack_nm: int
    off_centre: bool
    length_nm: int | None = None

    def sheets(self) -> Sheets:
        """Return the bracket at the head and the stud at the tip."""
        return Sheets(
            head_in=self.bracket_in,
            tip_in=STEEL_DESIGN_THICKNESS.value[self.mils],
            head_psi=self.bracket_psi,
            tip_psi=steel_strength(self.mils),
            diameter_in=screw_major_nm(self.number) / NM_PER_INCH,
            washer_in=STEEL_HEAD.value[self.number],
        )


def steel_read(own: Strict, bracket: Bracket, stack_nm: int) -> SteelAsked:
    """Read a screw in a steel stud; mistakes are noted on `own`.

    A gauge, or a stud under the house's least, is no mistake of the caller but a finding.

    Args:
        own: the opened base [-].
        bracket: the bracket that the screw goes through [-].
        stack_nm: finish, mortar and board over the stud [nm].

    Returns:
        What was asked [-].
    """
    refusal, mils = "", STEEL_LEAST_MILS.value
    try:
        mils = mils_parse(own.text("thickness"))
    except GaugeError as error:
        refusal = str(error)
    sizes = tuple(f"#{number}" for number in STEEL_HEAD.value)
    screw = own.child("screw", ("size", "length"))
    number, length = screw_number(screw.choice("size", sizes)), screw.length_or_none("length")
    psi = ALUMINIUM_ULTIMATE.value if bracket.metal == "aluminium" else steel_strength(mils)
    thickness = bracket.thickness_nm / NM_PER_INCH
    off_centre = own.flag("off_centre", default=True)
    length_nm = length.nm if length else None
    return SteelAsked(mils, refusal, number, thickness, psi, stack_nm, off_centre, length_nm)


def steel_findings(
    place: str, asked: SteelAsked, cases: tuple[Case, ...]
) -> tuple[tuple[Finding, ...], dict[str, object] | None, dict[str, object]]:
    """Compare what the worst screw gets with what it holds in a steel stud.

    Source: AISI S100-16, J4. Through a stack the sheets are not in contact, and the shear formula
    does not speak of that: the answer is then not known.

    Args:
        place: the fixing [-].
        asked: the screw and the stud [-].
        cases: what the worst screw gets [-].

    Returns:
        The findings, the capacity and the settings that were used [-].
    """
    if asked.refusal:
        return (stud_refused(place, asked.refusal),), None, {}
    capacity = steel_holds(asked.sheets(), asked.number, off_centre=asked.off_centre)
    settings: dict[str, object] = {
        "stud_strength": f"{steel_strength(asked.mils)} psi",
        "pull_over": "off centre, half" if asked.off_centre else "on centre",
    }
    findings = [_used(place, case, capacity) for case in cases]
    if asked.stack_nm > 0:
        findings.append(_stacked(place, asked.stack_nm))
    return tuple(findings), _capacity_json(asked, capacity), settings


def steel_length(place: str, asked: SteelAsked, bracket_nm: int, house: House) -> Finding:
    """Compare a screw's length with all that it must pass to hold in a steel stud.

    Source: AISI S100-16, J4: three threads show; threads and point are common practice, no source.

    Args:
        place: the fixing [-].
        asked: the screw and a stud that may be asked [-].
        bracket_nm: thickness of the bracket [nm].
        house: the firm's settings [-].

    Returns:
        The finding; not known while nobody has said how long the screw is [-].
    """
    least_nm = steel_screw_least_nm(asked.number, asked.mils, bracket_nm + asked.stack_nm)
    told = Asked(
        "fixing.threads",
        f"Is the #{asked.number} screw long enough for three threads and its point beyond the steel?",
        place,
        STEEL_SPACING.source,
        "Use a longer self-drilling screw of the same number, if the kit's maker agrees.",
    )
    if asked.length_nm is not None:
        return compared(told, exactly(asked.length_nm), house, least_nm=least_nm)
    least = spoken(least_nm, house.mark, up=True)
    return spoken_finding(told, None, least, "unknown", f"How long is the screw? {least} at least.")


def _used(place: str, case: Case, capacity: SteelCapacity) -> Finding:
    used = steel_used(capacity, case.pull_lbf, case.shear_lbf)
    state: State = "fails" if used > 1 else "tight" if used > TIGHT_FROM.value else "fits"
    asked = Asked(
        "fixing.together",
        "Does the worst screw hold pull and shear at once in the steel?",
        f"{place}, {case.name}",
        STEEL_INTERACTION.source,
        "",
    )
    do = f"Nothing to do: {share_text(used)} of it is used."
    if state != "fits":
        do = "Use more screws, or fit wood blocking between the studs."
    return spoken_finding(asked, share_text(used), "1.00", state, do)


def _stacked(place: str, stack_nm: int) -> Finding:
    asked = Asked(
        "fixing.contact",
        "Does the bracket lie on the steel, so that the screw's shear value is valid?",
        place,
        STEEL_SHEAR.source,
        "",
    )
    do = (
        "Fit wood blocking, or let an engineer say what the screw holds through this stack: the "
        "formula is for sheets in contact."
    )
    return spoken_finding(asked, f"{mm_text(stack_nm)} in between", "in contact", "unknown", do)


def stud_refused(place: str, why: str) -> Finding:
    """Return the finding on a stud that may not be asked: too thin fails, anything else is not known.

    Args:
        place: the fixing [-].
        why: what speaks against it, as `mils_parse` says it [-].

    Returns:
        The finding [-].
    """
    asked = Asked(
        "fixing.stud",
        "Is the steel stud thick enough to be asked?",
        place,
        STEEL_LEAST_MILS.source,
        "",
    )
    thin = "too thin" in why
    state: State = "fails" if thin else "unknown"
    limit = f"{STEEL_LEAST_MILS.value} mil or more, as printed on the stud"
    return spoken_finding(asked, None, limit, state, f"{why[:1].upper()}{why[1:]}.")


def _capacity_json(asked: SteelAsked, capacity: SteelCapacity) -> dict[str, object]:
    spacing, edge = steel_spacing_nm(screw_major_nm(asked.number))
    return {
        "shear": force_json(capacity.shear, "down"),
        "pull_out": force_json(capacity.pull_out_lbf, "down"),
        "pull_over": force_json(capacity.pull_over_lbf, "down"),
        "screw_tension": force_json(capacity.screw_tension_lbf, "down"),
        "tension": force_json(capacity.tension, "down"),
        "spacing_least": mm_text(spacing),
        "edge_least": mm_text(edge),
        "threads": f"{STEEL_SPACING.value['threads']:g} show beyond the steel at least",
    }
