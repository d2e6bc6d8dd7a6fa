# Seasons of one pairing, written apart from the program: what share of them ends with at least
# `want` finished plants? Only at temperatures that the table of days to emergence names.
# Rscript calibration.R DAYS_TO_EMERGENCE DEGC ROOTSTOCKS AGE SCIONS AGE GRAFTS WANT SEASONS SEED
a <- as.numeric(commandArgs(trailingOnly = TRUE))
names(a) <- c("days", "degc", "nr", "age_r", "ns", "age_s", "grafts", "want", "seasons", "seed")
set.seed(a[["seed"]])

sown <- function(n, multiplier, spread) {
  alive <- runif(n) < rbeta(1, 17, 3)
  slow <- multiplier * exp(rnorm(1, 0, 0.15))
  vigour <- exp(rnorm(1, 0, 0.20))
  data.frame(up = a[["days"]] * slow * exp(rnorm(n, 0, spread)), vigour = vigour,
             size = exp(rnorm(n, 0, 0.10)))[alive, ]
}

stems <- function(plants, age) {
  heat <- (a[["degc"]] - 10) * (age - plants$up)
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

finished <- function() {
  below <- sown(a[["nr"]], 1.3, 0.22)
  above <- sown(a[["ns"]], 1.0, 0.15)
  best <- max(sapply(-2:2, function(d) pairs(stems(below, a[["age_r"]] + d),
                                             stems(above, a[["age_s"]] + d))))
  odds <- exp(rnorm(1, 1.5, 0.6)); weight <- exp(rnorm(1, log(30), 0.7))
  take <- rbeta(1, weight * odds / (1 + odds), weight / (1 + odds))
  rbinom(1, min(best, a[["grafts"]]), take)
}

writeLines(format(mean(replicate(a[["seasons"]], finished()) >= a[["want"]]), digits = 6))
