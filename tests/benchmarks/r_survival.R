# Kaplan-Meier with log-log limits and Nelson-Aalen by survfit, stratum by stratum and all in one call; Weibull by
# survreg, which takes no late entry, so on lives watched from new.
# Rscript r_survival.R FOLDER ROUNDS: reads FOLDER/rows.csv, writes answers and seconds beside it.
suppressPackageStartupMessages(library(survival))
given <- commandArgs(trailingOnly = TRUE)
folder <- given[1]
rounds <- as.integer(given[2])
rows <- read.csv(file.path(folder, "rows.csv"))
parts <- split(rows, rows$stratum)

curve <- function(part) survfit(Surv(entry, exit, event) ~ 1, data = part, conf.type = "log-log")
weibull <- function(part) survreg(Surv(exit, event) ~ 1, data = part, dist = "weibull")
together <- function() survfit(Surv(entry, exit, event) ~ stratum, data = rows, conf.type = "log-log")
each <- function(make) lapply(parts, function(part) tryCatch(make(part), error = function(problem) NULL))

curves <- each(curve)
fits <- suppressWarnings(each(weibull))
invisible(together())
acts <- list(
  curves = function() each(curve),
  curves_together = together,
  weibull = function() suppressWarnings(each(weibull))
)
seconds <- sapply(seq_len(rounds), function(round) sapply(acts, function(act) system.time(act())[["elapsed"]]))

say <- function(name, table) write.csv(table, file.path(folder, paste0(name, ".csv")), row.names = FALSE)
say("seconds", data.frame(act = names(acts), seconds = apply(seconds, 1, median)))
say("curves", do.call(rbind, lapply(names(curves), function(code) {
  made <- curves[[code]]
  if (is.null(made)) NULL else data.frame(
    stratum = code, t = made$time, survival = made$surv, lower = made$lower, upper = made$upper, hazard = made$cumhaz
  )
})))
say("fits", do.call(rbind, lapply(names(fits), function(code) {
  made <- fits[[code]]
  if (is.null(made)) NULL else data.frame(
    stratum = code, shape = 1 / made$scale, scale = exp(coef(made)[[1]]), se = sqrt(vcov(made)["Log(scale)", "Log(scale)"])
  )
})))
say("versions", data.frame(
  r = as.character(getRversion()), survival = as.character(packageVersion("survival"))
))
