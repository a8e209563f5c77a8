"""Facts -> sentences. No arithmetic: a number not in the facts cannot be said. Plain text."""

from __future__ import annotations

from collections.abc import Callable

from longmile.reports import figures as f
from longmile.reports.facts import Briefing, Comparison, Header, RateRow
from longmile.reports.quality import CheckedTable
from longmile.reports.settled import ModelFacts
from longmile.reports.stratum import Conditional, Limited, StratumFacts
from longmile.reports.trust import TrustFacts

STATUS_WORDS = {
    "ok": "enough failures",
    "thin": "few failures",
    "no_failures": "no failure",
    "too_few_at_risk": "too few watched",
    "did_not_converge": "no curve fitted",
}
LIMITS_WORDS = {
    "profile": "from the profile likelihood",
    "wald": "from the curvature of the likelihood (Wald)",
    "clustered profile": "from the profile likelihood, widened for parts of one vehicle being alike",
    "clustered wald": "from the curvature of the likelihood (Wald), widened for parts of one vehicle being alike",
}

CAUTIONS = (
    "These numbers inform a decision. They do not certify a vehicle, a part or a repair.",
    "Brakes, steering, fuel pressure and suspension are inspected by licensed people under the codes of the "
    "place, at every visit and at any mileage. No number here is a reason to skip an inspection.",
    "A written warranty is governed by law that differs from place to place. Have its terms reviewed by a "
    "licensed professional before they are sold.",
    "What is told here is a description of this shop's own records. Other shops see other vehicles.",
)
NO_FAILURE_YET = "Miles have been watched and nothing has failed yet; only bounds on the rates hold."


def capital(text: str) -> str:
    """The text with its first letter in upper case."""
    return text[:1].upper() + text[1:]


def family(row: StratumFacts | RateRow) -> str:
    """The family's name, or 'all engine families'."""
    return "all engine families" if row.is_all_families else row.engine_family


def title(stratum: StratumFacts) -> str:
    """Heading of a stratum's section."""
    return f"{capital(stratum.component_name)}, {family(stratum)}"


def between(bounds: Limited, say: Callable[[float], str] = f.miles) -> str:
    """The limits of a value in words; says so where one is missing."""
    lower = say(bounds.lower) if bounds.lower is not None else None
    upper = say(bounds.upper) if bounds.upper is not None else None
    if lower is None and upper is None:
        return "its limits could not be found"
    if upper is None:
        return f"at least {lower}, without an upper limit"
    return f"at most {upper}, no lower limit could be found" if lower is None else f"between {lower} and {upper}"


def confidence(header: Header) -> str:
    """How sure the limits are."""
    share = f.per_hundred(header.confidence)
    return f"All limits are drawn so that the true value lies inside about {share} times in 100."


def trust_sentence(trust: TrustFacts) -> str:
    """How far the data can be trusted, in one sentence."""
    if trust.n_landed == 0:
        return "No repair records have come in yet."
    vehicles = f"{f.count(trust.n_vehicles)} {plural(trust.n_vehicles, 'vehicle')}"
    return (
        f"{vehicles} watched over {f.miles(trust.miles_watched)} miles; of {f.count(trust.n_landed)} "
        f"{plural(trust.n_landed, 'row')} that came in, {f.count(trust.n_kept)} were kept, "
        f"{f.count(trust.n_set_aside)} set aside and {f.count(trust.n_repeats)} said what was already known."
    )


def plural(n: int, word: str) -> str:
    """The word, with an s unless there is exactly one."""
    return word if n == 1 else f"{word}s"


def empty_sentence(trust: TrustFacts) -> str:
    """What to say where nothing could be estimated."""
    if trust.n_landed == 0:
        return (
            "There is nothing to report: no repair orders have been loaded. Put the shop's exports into the "
            "inbox and run again."
        )
    return (
        "No failure rate could be worked out yet: a vehicle counts from its second visit on, when there are "
        f"miles between two odometer readings. So far {f.miles(trust.miles_watched)} miles have been watched."
    )


def comparison_sentences(c: Comparison, header: Header) -> list[str]:
    """The rule of selection and what many comparisons do to it."""
    rule = (
        f"A component with at least {c.min_component_failures} failures in all is compared, family by "
        "family, with all other families together. A family stands out where the lower limit of its rate "
        "lies above the rate of the others, counted by socket and again by vehicle (so that one job on "
        f"eight valves is not eight pieces of evidence), with at least {c.min_family_failures} failures."
    )
    if c.n_compared == 0:
        return [rule, "No component has enough failures on more than one family to be compared yet."]
    chance = (
        f"{f.count(c.n_compared)} {plural(c.n_compared, 'comparison')} made; {f.count(c.n_higher)} stand "
        f"out. Were all families alike, about {f.times(c.n_by_chance)} would still stand out by chance alone."
    )
    return [
        rule,
        chance + " " + _against_chance(c),
        "This is a description, not yet a test: the comparison does not allow for the mileage at which each "
        "family is seen, which can make a family stand out. The page of estimates in detail compares families at the "
        "same age. Read the repair orders before acting.",
    ]


def _against_chance(c: Comparison) -> str:
    """What the number standing out is worth."""
    if c.n_higher == 0:
        return "None does: nothing in these records says that one family is harder on a part than the others."
    if not c.is_more_than_chance:
        return "That is no more than chance would give, so take none of them as a finding by itself."
    return "That is more than chance alone would give. Those told first lie furthest from the others."


def rate_sentence(s: StratumFacts) -> str:
    """How often it fails."""
    failures = f"{f.count(s.counts['n_failures'])} {plural(s.counts['n_failures'], 'failure')}"
    if s.rate is None:
        return f"{failures} in {f.miles(s.miles_at_risk)} miles at risk; no rate can be given."
    return (
        f"It failed {f.rate(s.rate.value)} times per 100,000 miles, {between(s.rate, f.rate)}: {failures} in "
        f"{f.miles(s.miles_at_risk)} miles at risk."
    )


def others_sentence(s: StratumFacts) -> str:
    """The rate against all other families; empty text where there are none."""
    if s.others is None:
        return ""
    o = s.others
    seen = f"{f.count(o.n_failures)} {plural(o.n_failures, 'failure')} in {f.miles(o.miles_at_risk)} miles"
    if o.n_failures == 0:
        return f"On all other families it never failed ({seen})."
    ratio = f" That is {f.times(o.times)} times as often." if o.times is not None else ""
    return f"On all other families together: {f.rate(o.rate)} per 100,000 miles ({seen}).{ratio}"


def hazard_sentence(s: StratumFacts) -> str:
    """The shape of the hazard in plain words."""
    if s.shape is None:
        return "No failure curve could be fitted, so nothing is said about wear-out or early failure."
    numbers = f"(Weibull shape {f.plain(s.shape.value)}, {between(s.shape, f.plain)})"
    words = {
        "wears_out": "It wears out: the risk grows with miles",
        "early": "Early failures: the risk is highest when the part is new and falls with miles",
        "cannot_tell": "These records cannot tell wear-out from failures at random",
        "not_known": "Nothing can be said about wear-out or early failure",
    }
    return f"{words[s.hazard]} {numbers}."


def fit_sentence(s: StratumFacts) -> str:
    """The warning where the fitted curve does not follow the failures; empty text where it does."""
    if s.is_followed or s.share_outside is None:
        return ""
    return (
        f"The fitted curve does not follow these failures well: at {f.per_hundred(s.share_outside)} in 100 of them it "
        "lies outside the limits of the survival curve. Trust the survival curve where the two differ."
    )


def ages_sentence(s: StratumFacts) -> str:
    """On which lives all that depends on age rests; empty text where it is all of them."""
    if s.original_below_miles is None:
        return ""
    return (
        f"What depends on age rests on {f.count(s.n_aged_failures)} of these failures: a first part counts only where "
        f"the vehicle was first seen below {f.miles(s.original_below_miles)} miles, so that it is likely the original."
    )


def curve_start_sentence(s: StratumFacts) -> str:
    """From what age the survival curve speaks, where that is not from new; empty text otherwise."""
    if s.curve_from_miles <= 0:
        return ""
    start = f.miles(s.curve_from_miles)
    return f"The survival curve speaks of parts that reach {start} miles: too few were watched earlier."


def beyond(value: Limited) -> str:
    """The warning that goes with an extrapolated mileage."""
    return (
        " This lies beyond any mileage watched here and rests on the fitted curve alone (extrapolated)."
        if value.is_extrapolated
        else ""
    )


def milestone_sentences(s: StratumFacts) -> list[str]:
    """B10, median and mean in words; for safety-relevant parts none: they are inspected, not predicted."""
    if s.is_safety_relevant:
        return [inspect_sentence(s)]
    sentences = []
    if s.b10 is not None:
        sentences.append(f"1 in 10 by about {f.miles(s.b10.value)} miles, {between(s.b10)}.{beyond(s.b10)}")
    if s.median is not None:
        sentences.append(f"Half by about {f.miles(s.median.value)} miles, {between(s.median)}.{beyond(s.median)}")
    if s.mean is not None:
        sentences.append(f"Mean miles to failure: about {f.miles(s.mean.value)}, {between(s.mean)}.{beyond(s.mean)}")
    return sentences or ["No mileage of failure can be given from so few."]


def inspect_sentence(s: StratumFacts) -> str:
    """What is said in place of a forecast where a failure can hurt someone."""
    return (
        f"A failure of this part can hurt someone. Inspect the {s.component_name} at every visit and at any "
        "mileage; the curve describes what was repaired here and says nothing about when the next one fails."
    )


def conditional_sentence(s: StratumFacts) -> str:
    """The chance to run further from one age; empty text for safety-relevant parts or where there is none."""
    chosen = _told(s.conditional)
    if s.is_safety_relevant or chosen is None:
        return ""
    return (
        f"One that has run {f.miles(chosen.from_miles)} miles runs {f.miles(chosen.further_miles)} more "
        f"about {f.per_hundred(chosen.survival.value)} times in 100, "
        f"{between(chosen.survival, f.per_hundred)}.{beyond(chosen.survival)}"
    )


def _told(rows: tuple[Conditional, ...]) -> Conditional | None:
    """The oldest age that is not extrapolated, with the longest distance; else none."""
    inside = [row for row in rows if not row.survival.is_extrapolated]
    return max(inside, key=lambda row: (row.from_miles, row.further_miles), default=None)


def counts_sentences(s: StratumFacts) -> list[str]:
    """What the numbers of a stratum rest on."""
    n = s.counts
    watched = (
        f"Watched: {f.count(n['n_vehicles'])} {plural(n['n_vehicles'], 'vehicle')}, "
        f"{f.count(n['n_sockets'])} {plural(n['n_sockets'], 'socket')} (places for the part), "
        f"{f.count(n['n_lives'])} lives of a part."
    )
    notes = [
        (n["n_removals"], "removed for another reason than failure"),
        (n["n_interval"], "found at inspection, so known only to lie between two visits"),
        (n["n_one_of_set"], "with a position not written down: one of the set, it is not known which"),
        (n["n_unknown_reason"], "without a reason on the line, counted as failures"),
        (n["n_walk_ins"], "on a vehicle's first visit, in no rate"),
    ]
    said = [f"{f.count(value)} {words}" for value, words in notes if value]
    return [
        watched,
        f"Also: {'; '.join(said)}." if said else "Every failure has its position and its reason.",
    ]


def thin_sentence(s: StratumFacts) -> str:
    """The warning for a stratum that is not `ok`; empty text for one that is."""
    if s.status == "thin" and s.is_age_doubtful:
        return (
            "Most of these parts were first seen at a mileage by which the original has likely failed, so their age is "
            "in doubt: the rate holds, but the mileages may be too long."
        )
    words = {
        "thin": "Few failures: the limits are wide, and that is all that can be said.",
        "too_few_at_risk": "Too few parts were watched for a curve.",
        "did_not_converge": "No failure curve could be fitted to these lives; the rate still holds.",
        "no_failures": "Nothing failed; only the bound on the rate holds.",
    }
    return words.get(s.status, "")


def evidence_sentence(s: StratumFacts) -> str:
    """How many repair orders stand behind the failures, and how many are shown."""
    total, shown = s.counts["n_orders"], len(s.evidence)
    orders = f"{f.count(total)} repair {plural(total, 'order')} behind these failures"
    if shown == 0:
        return f"{orders}; none is shown here."
    if shown >= total:
        return f"{orders}, newest first."
    return f"{orders}; the newest {f.count(shown)} are shown, all are in the published tables."


def bound_sentence(row: RateRow) -> str:
    """What holds where nothing failed."""
    seen = f"no failure in {f.miles(row.miles_at_risk)} miles"
    if row.rate is None or row.rate.upper is None:
        return f"{capital(seen)}; no bound could be found."
    return f"{capital(seen)}: at most {f.rate(row.rate.upper)} per 100,000 miles."


def walk_in_sentence(trust: TrustFacts) -> str:
    """Why walk-ins are counted apart."""
    if trust.n_walk_ins == 0:
        return "No failure came in on a vehicle's first visit."
    return (
        f"{f.count(trust.n_walk_ins)} {plural(trust.n_walk_ins, 'failure')} on "
        f"{f.count(trust.n_walk_in_orders)} repair {plural(trust.n_walk_in_orders, 'order')} came in on a "
        "vehicle's first visit. They are in no rate: a vehicle that is first seen because it broke has "
        "shown no mile without a failure, and counting it would make every part look worse than it is."
    )


def quality_sentences(t: TrustFacts) -> list[str]:
    """The summary of data quality on the briefing."""
    if t.n_landed == 0:
        return ["No file has been loaded."]
    files = f"{f.count(t.n_files)} {plural(t.n_files, 'file')} came in, {f.count(t.n_files_set_aside)} set aside whole."
    share = f"{f.per_hundred(t.share_set_aside)} in 100 rows" if t.share_set_aside is not None else "no rows"
    readings = (
        f"{f.count(t.n_readings_left_out)} of {f.count(t.n_readings)} odometer readings left out, nearly all "
        "because they contradict the vehicle's others."
    )
    visits = (
        f"{f.count(t.n_visits)} visits: {f.count(t.n_visits_by_date)} placed by date between two readings, "
        f"{f.count(t.n_visits_unplaced)} could not be placed at a mileage."
    )
    once = (
        f"{f.count(t.n_walk_once)} of {f.count(t.n_vehicles)} vehicles were seen only once, so no mile of "
        f"theirs was watched; {f.count(t.n_from_new)} were watched from new."
    )
    return [files, f"Set aside row by row: {share}. {checks_sentence(t)}", readings, visits, once]


def wrong_answer_sentences(b: Briefing) -> list[str]:
    """The plain mean of failure mileages beside the mean miles to failure; nothing without such a stratum."""
    s = b.wrong_answer
    if s is None or s.mean is None or s.plain_mean_miles is None or b.wrong_answer_times is None:
        return []
    return [
        f"Averaging the mileages at which the {s.component_name} failed ({family(s)}) gives "
        f"{f.miles(s.plain_mean_miles)} miles. That is a wrong answer to the question how long one lasts.",
        f"Counting the parts that are still running, the mean miles to failure is {f.miles(s.mean.value)}, "
        f"{between(s.mean)}: {f.times(b.wrong_answer_times)} times the plain average.{beyond(s.mean)}",
        "The plain average leaves out every part that has not failed yet, and it cannot be mended by more records.",
    ]


def lower_sentence(c: Comparison) -> str:
    """How the families on the good side were chosen."""
    return (
        f"{f.count(c.n_lower)} in all: the upper limit of the family's rate lies below the rate of the "
        "others, by socket and by vehicle. The part may also be missing on some vehicles of the family, or "
        "have been replaced elsewhere."
    )


def little_sentence(b: Briefing) -> str:
    """How many strata have few failures or none."""
    return (
        f"Nothing failed on {f.count(b.n_no_failures)} {plural(b.n_no_failures, 'pair')} of component and "
        f"engine family; on {f.count(b.n_few_failures)} too little failed for more than a rate with wide "
        "limits. Those with most to show are listed; all are in the published tables."
    )


def reconciled_sentence(n_unreconciled: int) -> str:
    """Whether every file adds up."""
    if n_unreconciled == 0:
        return "Every file adds up."
    return f"{f.count(n_unreconciled)} of the tables below do NOT add up: do not rely on this run."


def model_sentence(model: ModelFacts) -> str:
    """What the model that reads doubtful lines was trained on, and how it did."""
    lines = f"{f.count(model.n_lines)} {plural(model.n_lines, 'line')}"
    if not model.is_used:
        return f"Only {lines} with a component could be learned from: too few, so the words of the trade alone decide."
    trained = f"Doubtful lines are read by what {lines} with a component taught."
    if model.accuracy is None or model.decided_share is None:
        return trained
    return (
        f"{trained} Of lines kept from the lesson, it decided {f.per_hundred(model.decided_share)} in 100, and of "
        f"those {f.per_hundred(model.accuracy)} in 100 rightly."
    )


def checks_sentence(t: TrustFacts) -> str:
    """How many rules were checked and broken."""
    broken = f"{f.count(t.n_rules_failed)} of them broken by at least one row or table"
    return f"{f.count(t.n_rules)} {plural(t.n_rules, 'rule')} checked, {broken}."


def table_sentence(table: CheckedTable) -> str:
    """How a table's checks came out."""
    rules = f"{f.count(table.n_checks)} {plural(table.n_checks, 'rule')}"
    return f"{rules}, all held" if table.n_failed == 0 else f"{rules}, {f.count(table.n_failed)} broken"


def lives_behind_sentence(s: StratumFacts) -> str:
    """Why the plain mean is off in this stratum: how many lives it leaves out."""
    return (
        f"Behind these two numbers: {f.count(s.counts['n_lives'])} lives of a part were watched and "
        f"{f.count(s.counts['n_failures'])} of them ended by failure. The plain average knows only the "
        "failures."
    )
