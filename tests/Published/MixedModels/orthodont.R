# Writes orthodont.csv and orthodont.json beside it. Debian packages r-base-core, r-cran-nlme and r-cran-jsonlite; versions are in the json.
# Run in this folder: Rscript orthodont.R
library(nlme)
library(jsonlite)

d <- as.data.frame(Orthodont)
d$Subject <- as.character(d$Subject)
d$female <- as.numeric(d$Sex == "Female")
write.csv(d[, c("Subject", "age", "female", "distance")], "orthodont.csv", row.names = FALSE, quote = FALSE)

control <- lmeControl(maxIter = 500, msMaxIter = 1000, msMaxEval = 5000, tolerance = 1e-13, msTol = 1e-15, niterEM = 400, returnObject = TRUE)

# Variance of prediction less truth by Henderson's mixed model equations, dense and with nlme's variances.
prediction_errors <- function(X, Z, G, sigma2, groups) {
  q <- ncol(Z)
  labels <- unique(groups)
  big <- matrix(0, nrow(X), q * length(labels))
  for (i in seq_along(labels)) big[groups == labels[i], (i - 1) * q + 1:q] <- Z[groups == labels[i], ]
  W <- cbind(X, big)
  penalty <- matrix(0, ncol(W), ncol(W))
  at <- ncol(X) + seq_len(ncol(big))
  penalty[at, at] <- kronecker(diag(length(labels)), solve(G))
  C <- solve(crossprod(W) / sigma2 + penalty)
  matrix(sqrt(diag(C)[at]), ncol = q, byrow = TRUE, dimnames = list(labels, colnames(Z)))
}

one <- function(name, fixed, random, method) {
  f <- lme(fixed, random = random, data = d, method = method, control = control)
  G <- as.matrix(unclass(getVarCov(f)))
  G <- matrix(as.numeric(G), nrow(G))
  X <- model.matrix(fixed, d)
  Z <- model.matrix(if (nrow(G) == 1) ~ 1 else ~ age, d)
  labels <- unique(d$Subject)
  r <- ranef(f)[labels, , drop = FALSE]
  list(
    name = name, method = method, fixed = as.numeric(fixef(f)),
    # vcov is for the residual variance as estimated; summary() prints errors larger by sqrt(n/(n-p)) after ML.
    vcov = unname(vcov(f)), between = G, sigma = f$sigma, loglik = as.numeric(logLik(f)),
    groups = labels, ranef = unname(as.matrix(r)), ranef_se = unname(prediction_errors(X, Z, G, f$sigma^2, d$Subject)))
}

fits <- list()
for (method in c("REML", "ML")) {
  fits <- c(fits, list(
    one("intercept", distance ~ age, ~ 1 | Subject, method),
    one("slope", distance ~ age, ~ age | Subject, method),
    one("slope and sex", distance ~ age + female, ~ age | Subject, method)))
}

write_json(
  list(
    data = "nlme::Orthodont: distance in mm, age in years; Potthoff and Roy 1964",
    computed_with = paste0("R ", getRversion(), ", nlme ", packageVersion("nlme")),
    published = list(
      note = "Pinheiro and Bates 2000, REML, distance ~ age, random intercept and slope; recalled from memory, digits as printed",
      loglik = -221.3183, fixed = c(16.761111, 0.660185), se = c(0.775246, 0.071253), sd = c(2.32704, 0.22643), corr = -0.609, sigma = 1.31004),
    fits = fits),
  "orthodont.json", digits = NA, auto_unbox = TRUE, pretty = TRUE, matrix = "rowmajor")
