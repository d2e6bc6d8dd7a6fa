# Simulated groups fitted by a beta-binomial, and the power of fisher.test summed outright.
set.seed(20270412)
groups <- 60
tried <- sample(4:40, groups, replace = TRUE)
yes <- rbinom(groups, tried, rbeta(groups, 9, 2.5))
minus <- function(u) -sum(lchoose(tried, yes) + lbeta(exp(u[1]) + yes, exp(u[2]) + tried - yes) -
                            lbeta(exp(u[1]), exp(u[2])))
fit <- optim(c(2, 1), minus, method = "BFGS", control = list(reltol = 1e-15, maxit = 500))
fit <- optim(fit$par, minus, method = "BFGS", control = list(reltol = 1e-16, maxit = 500))
cat(groups, "\n")
cat(rbind(yes, tried), "\n")
cat(format(c(exp(fit$par), -fit$value), digits = 14), "\n")
power <- function(n, p, q) {
  sum(outer(0:n, 0:n, Vectorize(function(x, y) {
    if (fisher.test(matrix(c(x, n - x, y, n - y), 2))$p.value <= 0.05)
      dbinom(x, n, p) * dbinom(y, n, q) else 0
  })))
}
for (case in list(c(8, .9, .3), c(20, .95, .6), c(25, .92, .76))) {
  cat(case, format(power(case[1], case[2], case[3]), digits = 12), "\n")
}
