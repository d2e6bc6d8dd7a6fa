# Logistic regressions by R on published data. For each: its name, lines, columns, then a line of
# data each (yes tried group x...), then "=" with estimates, standard errors, deviance and, with a
# random intercept, its sd. Needs MASS and lme4.
suppressMessages({library(MASS); library(lme4)})
options(digits = 12, scipen = 3)

say <- function(name, yes, tried, group, x, fit, sd = NA, dev = deviance(fit)) {
  cat(name, nrow(x), ncol(x), "\n")
  write.table(cbind(yes, tried, group, x), row.names = FALSE, col.names = FALSE, quote = FALSE)
  cat("=", coef_of(fit), error_of(fit), dev, if (is.na(sd)) 0 else sd, "\n")
}
coef_of <- function(fit) if (is(fit, "merMod")) fixef(fit) else coef(fit)
error_of <- function(fit) sqrt(diag(as.matrix(vcov(fit))))
plain <- function(name, yes, tried, formula, data, weights = NULL) {
  fit <- glm(formula, family = binomial, data = data, control = list(epsilon = 1e-14, maxit = 50))
  say(name, yes, tried, 0, model.matrix(fit), fit)
}

# Bliss 1935, Ann. Appl. Biol. 22:134: beetles in carbon disulphide.
beetles <- data.frame(dose = c(1.6907, 1.7242, 1.7552, 1.7842, 1.8113, 1.8369, 1.8610, 1.8839),
                      n = c(59, 60, 62, 56, 63, 59, 62, 60), y = c(6, 13, 18, 28, 52, 53, 61, 60))
plain("beetles", beetles$y, beetles$n, cbind(y, n - y) ~ dose, beetles)
plain("menarche", menarche$Menarche, menarche$Total, cbind(Menarche, Total - Menarche) ~ Age, menarche)
plain("infert", infert$case, 1, case ~ spontaneous + induced, infert)
budworm <- data.frame(dose = rep(0:5, 2), sex = rep(0:1, each = 6),
                      dead = c(1, 4, 9, 13, 18, 20, 0, 2, 6, 10, 12, 16))
plain("budworm", budworm$dead, 20, cbind(dead, 20 - dead) ~ I(1 - sex) + dose, budworm)

# Crowder 1978, Appl. Statist. 27:34 (data from memory, confirmed by their known deviance).
orobanche <- data.frame(
  y = c(10, 23, 23, 26, 17, 5, 53, 55, 32, 46, 10, 8, 10, 8, 23, 0, 3, 22, 15, 32, 3),
  n = c(39, 62, 81, 51, 39, 6, 74, 72, 51, 79, 13, 16, 30, 28, 45, 4, 12, 41, 30, 51, 7),
  seed = rep(0:1, c(11, 10)),
  extract = c(0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1), plate = 1:21)
plain("orobanche", orobanche$y, orobanche$n, cbind(y, n - y) ~ seed * extract, orobanche)
fit <- glmer(cbind(y, n - y) ~ seed * extract + (1 | plate), orobanche, binomial, nAGQ = 25,
             control = glmerControl(tolPwrss = 1e-10))
say("orobanche_plates", orobanche$y, orobanche$n, orobanche$plate - 1, getME(fit, "X"), fit,
    sd = as.data.frame(VarCorr(fit))$sdcor[1], dev = 0)
fit <- glmer(cbind(incidence, size - incidence) ~ period + (1 | herd), cbpp, binomial, nAGQ = 25,
             control = glmerControl(tolPwrss = 1e-10))
say("cbpp_herds", cbpp$incidence, cbpp$size, as.integer(cbpp$herd) - 1, getME(fit, "X"), fit,
    sd = as.data.frame(VarCorr(fit))$sdcor[1], dev = 0)
