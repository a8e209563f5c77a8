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
        "the exact ones for a Poisson count, so they hold for few failures and for none; where vehicles differ "
        "by more than chance (one vehicle with many failures) they are widened by as much, and where many vehicles "
        "show that failures come more evenly than by chance (parts that wear out and are renewed) they are narrower. A "
        "rate is one number for all ages: two families seen at different mileages can differ in rate without "
        "differing in the part.",
        "Garwood, F. 1936. Fiducial limits for the Poisson distribution. Biometrika 28: 437-442. Fay, M. P. and "
        "Feuer, E. J. 1997. Confidence intervals for directly standardized rates. Stat. Med. 16: 791-801.",
    ),
    Method(
        "Share still running (survival curve)",
        "At each mileage at which something failed, the share that failed among the parts then at risk. A "
        "part first seen at 60,000 miles is counted from 60,000 miles on and not before (late entry). The "
        "limits are taken on the log-log scale, so they stay between 0 and 1. Where too few are at risk early on "
        "(parts first seen late), the curve speaks only from the mileage at which enough are, and only of parts that "
        "reach it; a lone early failure would otherwise take it to the ground. At its far end it is told only as long "
        "as 20 parts, or a tenth of the most ever watched, are at risk: beyond, its limits would be too narrow.",
        "Kaplan, E. L. and Meier, P. 1958. Nonparametric estimation from incomplete observations. J. Am. "
        "Stat. Assoc. 53: 457-481.",
    ),
    Method(
        "Cumulative hazard",
        "The sum over mileages of failures divided by parts at risk, with the same late entry.",
        "Aalen, O. 1978. Nonparametric inference for a family of counting processes. Ann. Statist. 6: 701-726.",
    ),
    Method(
        "Fitted failure curves (Weibull, lognormal, log-logistic, constant rate)",
        "Curves fitted by maximum likelihood to exact failures, failures known only to lie "
        "between two visits, parts still running, and parts that entered late. The shape of the Weibull says whether "
        "the risk grows with miles (above 1), stays level (1) or falls (below 1). The page says so only where "
        "both limits of the shape lie on one side of 1. The Weibull is used unless another curve has an AIC lower by "
        "more than 10; the page of estimates in detail names the next best, and whether the curve follows the points.",
        "Lawless, J. F. 2003. Statistical Models and Methods for Lifetime Data, 2nd ed. Wiley. Meeker, W. "
        "Q. and Escobar, L. A. 1998. Statistical Methods for Reliability Data. Wiley.",
    ),
    Method(
        "Limits of the fitted quantities (profile likelihood)",
        "All values of the quantity that the data do not contradict at the stated confidence, the other "
        "parameter being free. They need not be symmetrical. Parts of one vehicle share its driver, load and climate, "
        "so the limits are widened by how much whole vehicles differ beyond chance (never narrowed).",
        "Meeker, W. Q. and Escobar, L. A. 1998. Statistical Methods for Reliability Data. Wiley. Rotnitzky, A. and "
        "Jewell, N. P. 1990. Hypothesis testing of regression parameters in semiparametric generalized linear models "
        "for cluster correlated data. Biometrika 77: 485-497.",
    ),
    Method(
        "Which first parts count",
        "A part that was in the vehicle when the shop first saw it may not be the original; its age is then less than "
        "the odometer, and taking it for the original makes parts look long-lived. So in all that depends on age a "
        "first part counts only where the vehicle was first seen below the mileage by which about 1 in 20 of the "
        "originals have failed, found anew for every component and family. Parts the shop fitted always count: their "
        "age is known. Where too few failures would be left, all first parts count, and the page of estimates in "
        "detail says so. Rates use no age, and use every life.",
        "Our own rule. In simulated shops whose earlier repairs are unknown, limits that should hold 95 times in 100 "
        "held 92 to 98 times with it wherever enough failures were left, and 0 to 98 times without.",
    ),
    Method(
        "Families beside their fleet",
        "For a family with few failures or none: limits with the shape of the whole fleet's curve held, exact, and "
        "widened over the limits of that shape; and the family's hazard drawn towards the fleet by the spread that the "
        "counts of all families reveal (gamma-Poisson, empirical Bayes). Both stand beside the family's own value.",
        "Meeker and Escobar 1998, section 8.5. Gaver, D. P. and O'Muircheartaigh, I. G. 1987. Robust empirical Bayes "
        "analyses of event rates. Technometrics 29: 1-15.",
    ),
    Method(
        "Failed, or removed for another reason",
        "The share failed and the share removed by an age, each with the other at work. Errors come from how much a "
        "whole vehicle moves the shares (infinitesimal jackknife).",
        "Aalen, O. and Johansen, S. 1978. An empirical transition matrix for non-homogeneous Markov chains based on "
        "censored observations. Scand. J. Statist. 5: 141-150.",
    ),
    Method(
        "One family against all others at the same age",
        "Failures at each age are shared out by how many parts of each family were at risk there; the sum is held "
        "against what was observed (log-rank).",
        "Mantel, N. 1966. Evaluation of survival data and two new rank order statistics. Cancer Chemother. Rep. 50: "
        "163-170.",
    ),
    Method(
        "Repairs and their price per vehicle",
        "The mean number of repairs, and what was charged, by odometer: at each repair one over the vehicles watched "
        "at that mileage is added. Limits come from how whole vehicles differ.",
        "Lawless, J. F. and Nadeau, C. 1995. Some simple robust methods for the analysis of recurrent events. "
        "Technometrics 37: 158-168.",
    ),
    Method(
        "What goes with a longer or shorter life",
        "Regression of the lives of a component over all families on part origin, supplier, location, use, model year "
        "and family at once, with late entry and errors by vehicle. Proportional hazards say whether there is a "
        "difference; a Weibull's shape turns the ratio of hazards into a ratio of lives. A Weibull regression alone "
        "would take a few early failures for an effect of something else.",
        "Lin, D. Y. and Wei, L. J. 1989. The robust inference for the Cox proportional hazards model. J. Am. Stat. "
        "Assoc. 84: 1074-1078. Lawless, J. F. 2003, as above.",
    ),
    Method(
        "Mean, median, 1 in 10, and the chance to run further",
        "Read off the curve used. A value beyond the largest mileage watched is marked extrapolated: it "
        "is what the curve says where no vehicle of the shop has been. The restricted mean is the mean of "
        "the miles run up to a stated mileage and needs no fitted curve. The limits of the chance to run further "
        "rest on the curvature of the likelihood (Wald).",
        "Lawless, J. F. 2003, as above.",
    ),
)

LIVES: tuple[str, ...] = (
    "First the odometer. Each reading is held against the vehicle's others: a later one may not be lower, nor higher "
    "by more than 1,000 miles and 500 a day, nor, where its usual miles a day are known, by more than 5,000 miles and "
    "five times those (150 a day at the least). The readings on which most visits agree are believed. Others are "
    "corrected where exactly one value explains them (an odometer gone round, the other unit, one slip of the pen) "
    "and lies where the vehicle's own readings say it should; else they are left out, and the visit is placed by its "
    "date. In simulated histories 3 in 1,000 faults were corrected wrongly. Each is listed by longmile corrections "
    "and undone by longmile decide.",
    "Before that, vehicles that bear the same identification number are taken as one. Orders that may be one are only "
    "proposed, and counted apart until somebody accepts that they are.",
    "A socket is one place for a part on a vehicle: an injector's cylinder, a brake pad's wheel. A life is "
    "one part in one socket, from the mileage at which watching began to the mileage at which it ended.",
    "A vehicle is watched from its first odometer reading to its last, and not a mile beyond. A customer "
    "who stopped coming is not taken for a customer without trouble. Every visit counts, an oil change too: "
    "it shows that nothing else had failed so far.",
    "The first part in a socket is taken to be the one the vehicle was built with, so its age is the "
    "odometer (but see which first parts count, below). A replaced part begins a new life at 0. A repair ends a life "
    "by failure but does not make the part new, except for the few repairs that do.",
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
    "than the odometer says. Most such parts are kept out of what depends on age (see which first parts count); of "
    "those that are counted fewer than 1 in 20 are likely to be one, as far as the fitted curve can say.",
    "Failures repaired elsewhere. A vehicle between two visits may have had the part replaced at another shop.",
    "Equipment. A family is taken to have every component that the shop ever worked on, unless the settings say it "
    "does not ([not_fitted]); vehicles without the part add miles without a failure and make it look better than it "
    "is.",
    "Vehicles that differ: use, load, climate, driver. Limits allow for parts of one vehicle being alike, but with few "
    "vehicles that failed nobody can say how alike they are.",
    "Vehicles that are hard on one part after another, where earlier repairs are unknown. In simulated shops means "
    "then came out up to an eighth too short, and the age by which 1 in 10 fail up to a quarter, whichever way lives "
    "were counted.",
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
    (
        "thin",
        "Something failed, but few: read the limits, not the value. Also where few failures would be left at an age "
        "that is likely known: the rate holds, mileages may be too long.",
    ),
    ("no_failures", "Nothing failed: only an upper bound on the rate holds."),
    ("too_few_at_risk", "Too few parts were watched for a curve; the counts and the rate's limits hold."),
    (
        "did_not_converge",
        "No failure curve could be fitted; the counts, the rate and the survival curve hold.",
    ),
)
