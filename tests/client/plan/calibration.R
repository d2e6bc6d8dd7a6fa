# Seasons of one pairing, written apart from the program: what share of them ends with at least
# `want` finished plants? Only at temperatures that the table of days to emergence names.
# Rscript calibration.R DAYS_TO_EMERGENCE DEGC ROOTSTOCKS AGE SCIONS AGE GRAFTS WANT SEASONS SEED
#   and what is known: of rootstock, then scion: a b (of its viability), mean and sd of ln e, of
#   ln v; of takes: own grafts that took, own grafts tried; grafts in healing already;
#   and of either side, how many waves, and days from the first to the last (AGE is the first's).
a <- as.numeric(commandArgs(trailingOnly = TRUE))
names(a) <- c("days", "degc", "nr", "age_r", "ns", "age_s", "grafts", "want", "seasons", "seed",
              paste0("r_", c("a", "b", "e", "e_sd", "v", "v_sd")),
              paste0("s_", c("a", "b", "e", "e_sd", "v", "v_sd")), "took", "tried", "pending",
              "r_waves", "r_span", "s_waves", "s_span")
set.seed(a[["seed"]])

sown <- function(n, side, spread) {
  known <- function(what) a[[paste0(side, what)]]
  alive <- runif(n) < rbeta(1, known("a"), known("b"))
  slow <- exp(rnorm(1, known("e"), known("e_sd")))
  vigour <- exp(rnorm(1, known("v"), known("v_sd")))
  waves <- known("waves")
  wave <- rep(seq_len(waves) - 1, times = sapply(seq_len(waves), function(k) (n + waves - k) %/% waves))
  late <- if (waves > 1) (known("span") * wave) %/% (waves - 1) else 0 * wave
  data.frame(late = late, up = a[["days"]] * slow * exp(rnorm(n, 0, spread)), vigour = vigour,
             size = exp(rnorm(n, 0, 0.10)))[alive, ]
}

stems <- function(plants, age) {
  heat <- (a[["degc"]] - 10) * (age - plants$late - plants$up)
  mm <- round(7.0 * (1.1 / 7.0)^exp(-0.0026 * plants$vigour * heat) * plants$size, 3)
  sort(mm[heat >= 120 & mm >= 1.5 & mm <= 2.6])
}

# Both lists from the thin end: a stem that fits nobody left is passed over.
pairs <- function(x, y) {
  i <- 1; j <- 1; n <- 0
  while (i <= length(x) && j <= length(y)) {
    if (20 * abs(x[i] - y[j]) <= x[i] + y[j] + 1e-9) { n <- n + 1; i <- i + 1; j <- j + 1 }
    else if (x[i] < y[j]) i <- i + 1
    else j <- j + 1
  }
  n
}

# Of many draws of (a, b) from their prior, those that fit the record: weighted by its likelihood.
odds <- exp(rnorm(50000, 1.5, 0.6)); weight <- exp(rnorm(50000, log(30), 0.7))
yes <- weight * odds / (1 + odds); no <- weight / (1 + odds)
fits <- exp(lbeta(yes + a[["took"]], no + a[["tried"]] - a[["took"]]) - lbeta(yes, no))
i <- sample.int(length(yes), a[["seasons"]], replace = TRUE, prob = fits)
takes <- rbeta(length(i), yes[i] + a[["took"]], no[i] + a[["tried"]] - a[["took"]])

finished <- function(take) {
  below <- sown(a[["nr"]], "r_", 0.22)
  above <- sown(a[["ns"]], "s_", 0.15)
  best <- max(sapply(-2:2, function(d) pairs(stems(below, a[["age_r"]] + d),
                                             stems(above, a[["age_s"]] + d))))
  rbinom(1, min(best, a[["grafts"]]) + a[["pending"]], take)
}

writeLines(format(mean(sapply(takes, finished) >= a[["want"]]), digits = 6))
