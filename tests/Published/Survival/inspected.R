# Writes part-cracking, turbine-wheels, veteran-inspected and channing-inspected (.csv and .json), and channing-weibull.json, beside it.
# Debian packages r-base-core, r-cran-survival, r-cran-numderiv and r-cran-jsonlite; versions are in the json. Run in this folder: Rscript inspected.R
library(survival)
library(numDeriv)
library(jsonlite)

with <- paste0("R ", getRversion(), ", survival ", packageVersion("survival"), ", numDeriv ", packageVersion("numDeriv"))

# Column fine: last seen fine, empty where the failure itself was seen or none was.
save <- function(name, d, values) {
  write.csv(d, paste0(name, ".csv"), row.names = FALSE, quote = FALSE, na = "")
  write_json(c(values, computed_with = with), paste0(name, ".json"), digits = NA, auto_unbox = TRUE, pretty = TRUE, matrix = "rowmajor", na = "null")
}

by_survreg <- function(d, covariates = character(0)) {
  lower <- ifelse(d$status == 1, ifelse(is.na(d$fine), d$time, ifelse(d$fine == 0, NA, d$fine)), d$time)
  upper <- ifelse(d$status == 1, d$time, NA)
  weights <- if (is.null(d$freq)) rep(1, nrow(d)) else d$freq
  right <- if (length(covariates)) paste(covariates, collapse = "+") else "1"
  f <- survreg(as.formula(paste("Surv(lower, upper, type = 'interval2') ~", right)), data = d, weights = weights, control = survreg.control(rel.tolerance = 1e-15, maxiter = 500))
  list(coefficients = as.list(coef(f)), scale = f$scale, loglik_model = f$loglik[2], vcov = unname(vcov(f)))
}

# With late entry survreg has no way: the likelihood written out, with R's own distribution functions, climbed by optim and by Newton's steps.
by_hand <- function(d, covariates = character(0)) {
  X <- cbind(1, as.matrix(d[, covariates, drop = FALSE]))
  minus <- function(p) {
    shape <- exp(-p[length(p)])
    scale <- exp(X %*% p[-length(p)])[, 1]
    survives <- function(t) pweibull(t, shape, scale, lower.tail = FALSE, log.p = TRUE)
    seen <- d$status == 1 & is.na(d$fine)
    found <- d$status == 1 & !is.na(d$fine)
    l <- ifelse(seen, dweibull(d$time, shape, scale, log = TRUE), survives(d$time))
    a <- survives(ifelse(found, d$fine, 0))
    b <- survives(d$time)
    l[found] <- (a + log(-expm1(b - a)))[found]
    -sum(l - survives(d$entry))
  }
  # The default first step of a tenth is far too wide for a peak this sharp.
  curvature <- function(p) hessian(minus, p, method.args = list(d = 0.005))
  p <- c(log(mean(d$time)), rep(0, ncol(X) - 1), 0)
  p <- optim(p, minus, control = list(maxit = 5000, reltol = 1e-14))$par
  p <- optim(p, minus, method = "BFGS", control = list(maxit = 500, reltol = 1e-15))$par
  for (i in 1:5) p <- p - solve(curvature(p), grad(minus, p))
  list(coefficients = as.list(setNames(p[-length(p)], c("(Intercept)", covariates))), scale = exp(p[length(p)]), loglik_model = -minus(p), vcov = unname(solve(curvature(p))))
}

# Nelson 1982, p. 415: 167 parts inspected for cracks at eight ages, months.
ages <- c(0, 6.12, 19.92, 29.64, 35.40, 39.72, 45.24, 52.32, 63.48)
d <- data.frame(fine = c(ages[1:8], NA), time = c(ages[2:9], 63.48), status = c(rep(1, 8), 0), freq = c(5, 16, 12, 18, 18, 2, 6, 17, 73))
save("part-cracking", d, list(
  published = list(scale = 71.6904, shape = 1.4854, note = "Data seen in a copy of the table of Nelson 1982; the estimates of an analysis of them are recalled from memory"),
  weibull = by_survreg(d)))

# Nelson 1982, p. 409: 432 wheels, each looked at once, hundreds of hours; recalled from memory, so a data set and not an authority.
hours <- c(4, 10, 14, 18, 22, 26, 30, 34, 38, 42, 46)
cracked <- c(0, 4, 2, 7, 5, 9, 9, 6, 22, 21, 21)
whole <- c(39, 49, 31, 66, 25, 30, 33, 7, 12, 19, 15)
d <- data.frame(fine = c(rep(0, 11), rep(NA, 11)), time = rep(hours, 2), status = rep(1:0, each = 11), freq = c(cracked, whole))
d <- d[d$freq > 0, ]
save("turbine-wheels", d, list(weibull = by_survreg(d)))

# survival::veteran with every other death known only to lie between visits 28 days apart: a mixture of all kinds, with covariates. The visits are invented.
v <- veteran
visited <- seq_len(nrow(v)) %% 2 == 0 & v$status == 1
d <- data.frame(fine = ifelse(visited, 28 * floor((v$time - 0.5) / 28), NA), time = ifelse(visited, 28 * (floor((v$time - 0.5) / 28) + 1), v$time), status = v$status,
  karno = v$karno, age = v$age, trt = v$trt)
save("veteran-inspected", d, list(weibull = by_survreg(d, c("karno", "age", "trt"))))

# Channing House (the file beside this one): late entry, then every other death known only to lie after the last yearly visit since the entry. The visits are invented.
ch <- read.csv("channing-left-truncated.csv")
plain <- data.frame(entry = ch$entry, fine = NA, time = ch$exit, status = ch$status, gender = ch$gender)
write_json(list(weibull = by_hand(plain, "gender"), women = by_hand(plain[plain$gender == 2, ]), computed_with = with), "channing-weibull.json",
  digits = NA, auto_unbox = TRUE, pretty = TRUE, matrix = "rowmajor")
d <- plain
visited <- seq_len(nrow(d)) %% 2 == 0 & d$status == 1
d$fine <- ifelse(visited, d$entry + 12 * floor((d$time - d$entry - 0.5) / 12), NA)
save("channing-inspected", d, list(weibull = by_hand(d, "gender")))
