# R documentation examples and simple cases
# Source: R ?power.t.test (provenance: constructed)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); package stats 4.2.2
pw <- function(data) lapply(seq_len(nrow(data)), function(i) { r <- data[i, ]; list(n = r$n, delta = r$delta, sd = r$sd, sig = r$sig, power_two_sample_strict = power.t.test(n = r$n, delta = r$delta, sd = r$sd, sig.level = r$sig, strict = TRUE)$power, delta_for_80 = power.t.test(n = r$n, sd = r$sd, power = .8, sig.level = r$sig, tol = 1e-12)$delta) })
data <- data.frame(n = c(20, 5), delta = c(1, 1.5), sd = c(1, 1), sig = c(0.05, 0.05))
f <- function(data) pw(data)
print(f(data), digits = 17)
