# What counts and calliper readings say of one lot at a constant temperature, written apart from the
# program: many lots drawn from the prior, weighted by the likelihood.
# Rscript carried_lot.R DAYS_TO_EMERGENCE DEGC SEEDS "age:up,age:up" AGE "mm,mm,mm" A B
# prints mean and sd of g, ln e, ln v, and of ln v of the variety's next lot a year later.
a <- commandArgs(trailingOnly = TRUE)
days <- as.numeric(a[1]); degc <- as.numeric(a[2]); seeds <- as.numeric(a[3])
counts <- sapply(strsplit(strsplit(a[4], ",")[[1]], ":"), as.numeric)
age <- as.numeric(a[5]); mm <- as.numeric(strsplit(a[6], ",")[[1]])
set.seed(7)
n <- 60000
g <- rbeta(n, as.numeric(a[7]), as.numeric(a[8]))
e <- rnorm(n, 0, 0.15); v <- rnorm(n, 0, 0.20); scatter <- 0.10 * exp(rnorm(n, 0, 0.3))

up_by <- function(t) pnorm((log(t / days) - e) / 0.15)
ln_like <- rep(0, n); before <- 0; up_before <- rep(0, n)
for (k in seq_len(ncol(counts))) {
  ln_like <- ln_like + (counts[2, k] - before) * log(g * (up_by(counts[1, k]) - up_before))
  before <- counts[2, k]; up_before <- up_by(counts[1, k])
}
ln_like <- ln_like + (seeds - before) * log(1 - g * up_before)

# Each seedling's own emergence given that it is up by `age`: the middle of 40 equal parts.
for (d in mm) {
  density <- 0
  for (part in (seq_len(40) - 0.5) / 40) {
    up <- days * exp(e + 0.15 * qnorm(part * up_by(age)))
    middle <- log(7.0) + log(1.1 / 7.0) * exp(-0.0026 * exp(v) * (degc - 10) * (age - up))
    density <- density + dnorm(log(d), middle, sqrt(scatter^2 + (0.05 / d)^2)) / 40
  }
  ln_like <- ln_like + log(density)
}
w <- exp(ln_like - max(ln_like)); w <- w / sum(w)
moments <- function(x) { m <- sum(w * x); c(m, sqrt(sum(w * (x - m)^2))) }

# Half of the prior's variance is the variety's, half the lot's; the lot's readings alone say
# `said` with variance 1 / gained, and a year later they weigh half.
of_v <- moments(v)
gained <- 1 / of_v[2]^2 - 1 / 0.04
said <- of_v[1] / of_v[2]^2 / gained
weight <- 0.5 / (1 / gained + 0.02)
writeLines(format(c(moments(g), moments(e), of_v, said * weight / (50 + weight),
                    sqrt(1 / (50 + weight) + 0.02)), digits = 6))
