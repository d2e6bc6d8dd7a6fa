# Reads cases, one a line: tolerance;x,x,...;y,y,... in whole micrometres, writes "pairs total".
# The assignment solver knows nothing of sorted lists: it searches all matchings.
suppressPackageStartupMessages(library(clue))
solve_case <- function(line) {
  parts <- strsplit(line, ";")[[1]]
  tolerance <- as.numeric(parts[1])
  x <- as.numeric(strsplit(parts[2], ",")[[1]])
  y <- as.numeric(strsplit(parts[3], ",")[[1]])
  apart <- abs(outer(x, y, "-"))
  refused <- 1 + max(apart) * min(length(x), length(y))
  # A tolerance below 0 stands for that many percent of the mean: 200 |x-y| <= percent (x+y).
  allowed <- if (tolerance < 0) 200 * apart <= -tolerance * outer(x, y, "+") else apart <= tolerance
  cost <- ifelse(allowed, apart, refused)
  if (nrow(cost) > ncol(cost)) cost <- t(cost)
  chosen <- as.integer(solve_LSAP(cost))
  paid <- cost[cbind(seq_along(chosen), chosen)]
  cat(sum(paid < refused), sum(paid[paid < refused]), "\n")
}
for (line in readLines(commandArgs(TRUE)[1])) solve_case(line)
