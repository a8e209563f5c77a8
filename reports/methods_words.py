"""The text of the methods page: what each estimator is, where it comes from. No numbers of a shop."""

from __future__ import annotations

from dataclasses import dataclass

SOURCES = "longmile works from the publications named; page references are for readers who want to check."


@dataclass(frozen=True)
class Method:
    """One estimator: what it gives, how, and its published source."""

    name: str
    text: str
    source: str


METHODS: tuple[Method, ...] = (
    Method(
        "Rate per 100,000 miles",
        "Failures divided by the miles for which parts were at risk, all sockets together. The limits are "
        "the exact ones for a Poisson count, so they hold for few failures and for none. A rate is one "
        "number for all ages: two families seen at different mileages can differ in rate without differing "
        "in the part.",
        "Garwood, F. 1936. Fiducial limits for the Poisson distribution. Biometrika 28: 437-442.",
    ),
    Method(
        "Share still running (survival curve)",
        "At each mileage at which something failed, the share that failed among the parts then at risk. A "
        "part first seen at 60,000 miles is counted from 60,000 miles on and not before (late entry). The "
        "limits are taken on the log-log scale, so they stay between 0 and 1. Where very few are at risk "
        "the curve can drop steeply: look at the counts under the axis.",
        "Kaplan, E. L. and Meier, P. 1958. Nonparametric estimation from incomplete observations. J. Am. "
        "Stat. Assoc. 53: 457-481.",
    ),
    Method(
        "Cumulative hazard",
        "The sum over mileages of failures divided by parts at risk, with the same late entry.",
        "Aalen, O. 1978. Nonparametric inference for a family of counting processes. Ann. Statist. 6: 701-726.",
    ),
    Method(
        "Fitted failure curve (Weibull)",
        "A two-parameter curve fitted by maximum likelihood to exact failures, failures known only to lie "
        "between two visits, parts still running, and parts that entered late. Its shape says whether the "
        "risk grows with miles (above 1), stays level (1) or falls (below 1). The page says so only where "
        "both limits of the shape lie on one side of 1.",
        "Lawless, J. F. 2003. Statistical Models and Methods for Lifetime Data, 2nd ed. Wiley. Meeker, W. "
        "Q. and Escobar, L. A. 1998. Statistical Methods for Reliability Data. Wiley.",
    ),
    Method(
        "Limits of the fitted quantities (profile likelihood)",
        "All values of the quantity that the data do not contradict at the stated confidence, the other "
        "parameter being free. They need not be symmetrical. Where they could not be found the limits rest "
        "on the curvature of the likelihood (Wald), and the tables say which.",
        "Meeker, W. Q. and Escobar, L. A. 1998. Statistical Methods for Reliability Data. Wiley.",
    ),
    Method(
        "Mean, median, 1 in 10, and the chance to run further",
        "Read off the fitted curve. A value beyond the largest mileage watched is marked extrapolated: it "
        "is what the curve says where no vehicle of the shop has been. The restricted mean is the mean of "
        "the miles run up to a stated mileage and needs no fitted curve. The limits of the chance to run further "
        "rest on the curvature of the likelihood (Wald).",
        "Lawless, J. F. 2003, as above.",
    ),
)

LIVES: tuple[str, ...] = (
    "First the odometer. Two readings of one vehicle contradict each other where the later one is lower, or where "
    "there are more than 1,000 miles and 500 a day between them. The reading that contradicts most others is left out, "
    "again and again, until none do; where several contradict equally many, all of them are. Such a visit is placed "
    "by its date between the readings that are used. What was left out is counted on the data-quality page.",
    "A socket is one place for a part on a vehicle: an injector's cylinder, a brake pad's wheel. A life is "
    "one part in one socket, from the mileage at which watching began to the mileage at which it ended.",
    "A vehicle is watched from its first odometer reading to its last, and not a mile beyond. A customer "
    "who stopped coming is not taken for a customer without trouble. Every visit counts, an oil change too: "
    "it shows that nothing else had failed so far.",
    "The first part in a socket is taken to be the one the vehicle was built with, so its age is the "
    "odometer. A replaced part begins a new life at 0. A repair ends a life by failure but does not make "
    "the part new, except for the few repairs that do.",
    "Failed, worn, and found at inspection are failures. Preventive work, removal for access, recalls and "
    "customers' wishes end a life without a failure. A line without a reason counts as the shop's settings "
    "say, and is counted apart.",
    "All lines for one part on one vehicle at one odometer reading are one job: the labour and the part end a life "
    "once, and so does an order reopened before the vehicle moved.",
    "A failure found at inspection happened somewhere between the last time the part was known to be sound "
    "and the inspection. It is used as that stretch, not as a point.",
    "A failure on a vehicle's first visit has no watched mile before it. It is a walk-in: kept, counted, "
    "and in no rate.",
    "Where a line does not say which of several sockets, it counts as one of the set, and the page says how many do.",
    "Counted by vehicle, only the first failure among the sockets counts. That is used beside the count by "
    "socket when families are compared, because one job can renew a whole set.",
)

UNKNOWN: tuple[str, ...] = (
    "Earlier repairs that nobody wrote down. A part replaced before the vehicle's first visit is younger "
    "than the odometer says. This makes parts look as if they had survived longer than they did, and pulls "
    "the early part of the curve.",
    "Failures repaired elsewhere. A vehicle between two visits may have had the part replaced at another shop.",
    "Equipment. A family is taken to have every component that the shop ever worked on, unless the settings say it "
    "does not ([not_fitted]); vehicles without the part add miles without a failure and make it look better than it "
    "is.",
    "Vehicles that differ: use, load, climate, driver. The limits treat lives as independent; several "
    "failures on one vehicle make the true limits wider than those shown.",
    "Mileage mix. Rates are not adjusted for the mileage at which a family is seen; the survival curves are.",
    "The engine's layout. The number of cylinder banks is taken from the number of cylinders.",
)

PLAIN_MEAN: tuple[str, ...] = (
    "It is tempting to take every failed part, write down its mileage, and average. The average answers "
    "another question: how old were the parts that happened to fail while we were looking.",
    "It leaves out the survivors. Parts that still run at the last visit have lasted longer than any "
    "average of failures can show, and most parts of a shop's vehicles still run.",
    "It is pulled by when vehicles come in. A vehicle first seen at a high mileage can only add failures at "
    "high mileages; the early failures of vehicles like it were never seen.",
    "More records do not mend it. With twice the vehicles the plain average is as wrong as before, only "
    "more precisely so.",
)

STATUSES: tuple[tuple[str, str], ...] = (
    ("ok", "There are enough failures for the rate and the curve."),
    ("thin", "Something failed, but few: read the limits, not the value."),
    ("no_failures", "Nothing failed: only an upper bound on the rate holds."),
    ("too_few_at_risk", "Too few parts were watched for a curve; the counts and the rate's limits hold."),
    (
        "did_not_converge",
        "No failure curve could be fitted; the counts, the rate and the survival curve hold.",
    ),
)
