"""Sentences of the page of estimates in detail, and of the table of sensitivity. No arithmetic."""

from __future__ import annotations

from longmile.reports import figures as f
from longmile.reports.detail import Detail, EffectRow, ModelRow
from longmile.reports.sensitivity import Furthest
from longmile.reports.wording import capital, plural

MODEL_WORDS = {
    "weibull": "Weibull",
    "lognormal": "lognormal",
    "loglogistic": "log-logistic",
    "exponential": "constant rate",
}
VARIANT_WORDS = {
    "as_set": "as set",
    "per_vehicle": "by vehicle: only the first failure of a set, per mile of the vehicle",
    "from_new": "only vehicles seen from new",
    "every_first_part": "every first part taken for the original",
    "unknown_as_removal": "lines without a reason as removals",
    "unknown_as_failure": "lines without a reason as failures",
    "follow_up_to_date": "vehicles taken to have run on to date",
    "follow_up_last_reading": "vehicles watched to their last reading only",
}
MODELS_INTRO = (
    "Four curves are fitted to the ages at failure of every component. The Weibull is used unless another has an AIC "
    "lower by more than 10, which leaves it no support; the next best is named, with how far it is behind or closer. "
    "Such curves agree inside the range watched and may differ much beyond it, where the mean is made.",
    "The plot check lays the curve beside the survival curve that needs no model. A curve that leaves the limits of "
    "the other at many failures does not describe this component, whatever its AIC.",
)
FAMILIES_INTRO = (
    "A family with few failures says little by itself. Two ways to lean on all families together are shown beside its "
    "own value: the mileage by which 1 in 10 fail if the family's curve had the shape of the whole fleet's "
    "(limits exact, widened by the doubt about that shape), and the hazard drawn towards the fleet by as much as the "
    "families' likeness allows (empirical Bayes).",
    "Hazard means: failures divided by what the whole fleet's curve would have given at the same ages. 1 is like the "
    "fleet.",
)
AGES_INTRO = (
    "A part may have been replaced before the shop first saw the vehicle. The mileages shown on all pages leave such "
    "first parts out as far as they can: only parts that are likely the original ones count. The other way is to count "
    "every part and take its age at first sight for unknown, replaced by its like at every failure before.",
    "In simulated shops the limits of both hold the truth about 95 times in 100 where their assumption is met. The "
    "first is shown because it leans on less: where parts are also replaced before they fail, or were never replaced "
    "elsewhere, the second goes wrong by more. Where the first is said to be in doubt, too few likely originals are "
    "left: trust the second there, and the first not at all.",
)
AGAINST_INTRO = (
    "Each family is held against all others at the same age (log-rank test with late entry), so a family seen only at "
    "high mileage is not blamed for its age. Counted by vehicle, the first failure of a set: one job on several "
    "sockets is one piece of evidence. A family without a failure is left out: it may not have the part at all.",
)
REMOVALS_INTRO = (
    "Parts are also taken out before they fail. Both shares are counted with the other at work (Aalen-Johansen), so "
    "they can be added; reading 1 minus a survival curve for a single cause would overstate it.",
)
RECURRENCE_INTRO = (
    "How many times a vehicle has had the component repaired by then, counted from new, and what was charged for it: "
    "the mean over the vehicles watched at each odometer, with limits that treat a vehicle as one piece of evidence.",
)
EFFECTS_INTRO = (
    "Parts of one kind beside another, part origin, supplier, location, use, model year and family held equal "
    "(proportional hazards with late entry, errors by vehicle): 0.5 means that they last half as long. This is what "
    "goes together in these records. It does not show what causes what: a cheaper part may go into older vehicles.",
)
SENSITIVITY_INTRO = (
    "What is set in the settings, and what is assumed about first parts, could have been decided otherwise. The table "
    "shows by how much the headline numbers would move: 1 is no change, 1.1 a tenth more. Every way is fitted by a "
    "Weibull here, so that only the counting differs.",
    "For vehicles seen from new the fit rests on few miles; where it moves far, look at its failures first.",
)


def model_name(model: str | None) -> str:
    """The curve's name as said."""
    return MODEL_WORDS[model] if model else "none fits"


def resting_on(row: ModelRow) -> str:
    """On which failures the curve rests."""
    if row.original_below_miles is None:
        return f"all {f.count(row.n_failures)}"
    return (
        f"{f.count(row.n_aged_failures)} of {f.count(row.n_failures)} (first parts only of vehicles first seen below "
        f"{f.miles(row.original_below_miles)})"
    )


def next_best(row: ModelRow) -> str:
    """The curve that comes next, and how far it is behind."""
    if row.runner_up is None or row.aic_apart is None:
        return "none"
    name = MODEL_WORDS[row.runner_up]
    return f"{name}, {'behind' if row.is_ahead else 'closer'} by {f.plain(row.aic_apart)}"


def plot_words(row: ModelRow) -> str:
    """How the curve follows its probability plot."""
    if row.share_outside is None or row.plot_correlation is None:
        return "too few points"
    return f"outside at {f.per_hundred(row.share_outside)} in 100 failures"


def against_sentence(d: Detail) -> str:
    """How many tests were made, and what chance alone would give."""
    if d.n_tests == 0:
        return "No family could be compared."
    return (
        f"{f.count(d.n_tests)} {plural(d.n_tests, 'comparison')} made. In {f.count(d.n_against)} of them the family "
        f"lies further off than chance puts {f.per_hundred(d.notable)} in 100; were all families alike, about "
        f"{f.times(d.n_by_chance)} would."
    )


def effects_sentence(d: Detail) -> str:
    """How many comparisons were made, and what chance alone would give."""
    return (
        f"{f.count(d.n_effects)} {plural(d.n_effects, 'comparison')} made. {f.count(d.n_differing)} lie further off "
        f"than chance puts {f.per_hundred(d.notable)} in 100; did nothing matter, about "
        f"{f.times(d.n_effects_by_chance)} would."
    )


def effect_words(row: EffectRow) -> str:
    """What is compared with what."""
    return f"{row.level} against {row.reference}"


def chance(p_value: float) -> str:
    """A p-value as said: below 1 in 10,000 it is only said to be."""
    return "below 0.0001" if p_value < 0.0001 else f"{p_value:.4f}"


def furthest_sentence(row: Furthest) -> str:
    """How far one way moves the mean over the components."""
    over = f"{f.count(row.n_components)} {plural(row.n_components, 'component')}"
    return (
        f"{capital(VARIANT_WORDS[row.variant])}: over {over} the mean miles to failure becomes {f.plain(row.middle)} "
        f"times what is shown in the middle, {f.plain(row.least)} at the least and {f.plain(row.most)} at the most."
    )
