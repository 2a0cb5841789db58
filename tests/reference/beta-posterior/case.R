# Small loss counts; orob cell totals
# Source: Constructed; Crowder (1978) totals (provenance: constructed)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, stats 4.2.2, survival 3.5.3
data <- list(`two` = data.frame(
  x = c(
    2, 7
  ),
  n = c(
    12, 12
  )
), `three` = data.frame(
  x = c(
    1, 4, 3
  ),
  n = c(
    12, 12, 11
  )
), `orob` = data.frame(
  x = c(
    99, 201, 49, 75
  ),
  n = c(
    272, 295, 123, 141
  )
))
q <- function(x, n, a, b) list(posterior_a = a + x, posterior_b = b + n - x, median = qbeta(.5, a + x, b + n - x), ci95_lower = qbeta(.025, a + x, b + n - x), ci95_upper = qbeta(.975, a + x, b + n - x))
f <- function(data) list(uniform_prior = lapply(data, function(d) q(d$x, d$n, 1, 1)), jeffreys_prior = lapply(data, function(d) q(d$x, d$n, .5, .5)))
print(f(data), digits = 17)
