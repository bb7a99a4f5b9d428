# Values of bcg.json: R 4.2.2, base alone. Rscript bcg.R
d <- read.csv("bcg.csv")
y <- with(d, log(treated_ill / (treated_ill + treated_well)) - log(control_ill / (control_ill + control_well)))
v <- with(d, 1 / treated_ill - 1 / (treated_ill + treated_well) + 1 / control_ill - 1 / (control_ill + control_well))
paule_mandel <- function(x) {
  excess <- function(t) {
    w <- 1 / (v + t)
    b <- solve(t(x) %*% (w * x), t(x) %*% (w * y))
    sum(w * (y - x %*% b)^2) - (length(y) - ncol(x))
  }
  t2 <- uniroot(excess, c(0, 10), tol = 1e-14)$root
  w <- 1 / (v + t2)
  inverse <- solve(t(x) %*% (w * x))
  list(tau2 = t2, b = inverse %*% t(x) %*% (w * y), se = sqrt(diag(inverse)))
}
options(digits = 12)
print(paule_mandel(matrix(1, 13, 1)))
print(paule_mandel(cbind(1, d$latitude)))
