# Newcombe 1998 Table I examples
# Source: Newcombe RG (1998) Two-sided confidence intervals for the single proportion: comparison of seven methods. Statistics in Medicine 17:857-872
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, stats 4.2.2, survival 3.5.3

prop_ci_all <- function(x, n, conf = 0.95) list(x = x, n = n, conf = conf, p = x/n, wald_untruncated = wald(x, n, conf), wilson = wilson(x, n, conf), wilson_cc = wilson_cc(x, n, conf),
  clopper_pearson = clopper_pearson(x, n, conf), mid_p = midp_ci(x, n, conf), agresti_coull_untruncated = agresti_coull(x, n, conf),
  jeffreys_modified = jeffreys(x, n, conf, TRUE), jeffreys_raw = jeffreys(x, n, conf, FALSE))
agresti_coull <- function(x, n, conf = 0.95) { z <- qnorm(1 - (1 - conf)/2); nt <- n + z^2; pt <- (x + z^2/2)/nt
  h <- z*sqrt(pt*(1 - pt)/nt); c(lower = pt - h, upper = pt + h) }
clopper_pearson <- function(x, n, conf = 0.95) { a <- 1 - conf
  c(lower = if (x == 0) 0 else qbeta(a/2, x, n - x + 1), upper = if (x == n) 1 else qbeta(1 - a/2, x + 1, n - x)) }
jeffreys <- function(x, n, conf = 0.95, modified = TRUE) { a <- 1 - conf
  c(lower = if (modified && x == 0) 0 else qbeta(a/2, x + .5, n - x + .5), upper = if (modified && x == n) 1 else qbeta(1 - a/2, x + .5, n - x + .5)) }
midp_ci <- function(x, n, conf = 0.95) { a <- (1 - conf)/2
  f_lo <- function(p) pbinom(x, n, p, lower.tail = FALSE) + .5*dbinom(x, n, p) - a
  f_hi <- function(p) pbinom(x - 1, n, p) + .5*dbinom(x, n, p) - a
  lo <- if (x == 0) 0 else uniroot(f_lo, c(0, x/n), tol = 1e-15)$root
  hi <- if (x == n) 1 else uniroot(f_hi, c(x/n, 1), tol = 1e-15)$root
  c(lower = lo, upper = hi) }
wald <- function(x, n, conf = 0.95) { z <- qnorm(1 - (1 - conf)/2); p <- x/n; h <- z*sqrt(p*(1 - p)/n); c(lower = p - h, upper = p + h) }
wilson <- function(x, n, conf = 0.95) { z <- qnorm(1 - (1 - conf)/2); p <- x/n
  c0 <- (x + z^2/2)/(n + z^2); h <- z*sqrt(n)/(n + z^2)*sqrt(p*(1 - p) + z^2/(4*n))
  lo <- if (x == 0) 0 else c0 - h; hi <- if (x == n) 1 else c0 + h; c(lower = lo, upper = hi) }
wilson_cc <- function(x, n, conf = 0.95) { z <- qnorm(1 - (1 - conf)/2); p <- x/n; q <- 1 - p
  lo <- if (x == 0) 0 else (2*n*p + z^2 - 1 - z*sqrt(z^2 - 2 - 1/n + 4*p*(n*q + 1)))/(2*(n + z^2))
  hi <- if (x == n) 1 else (2*n*p + z^2 + 1 + z*sqrt(z^2 + 2 - 1/n + 4*p*(n*q - 1)))/(2*(n + z^2)); c(lower = lo, upper = hi) }
data <- data.frame(
  x = c(81, 15, 0, 1),
  n = c(263, 148, 20, 29)
)
f <- function(data) {
    computed <- lapply(seq_len(nrow(data)), function(i) prop_ci_all(data$x[i], data$n[i]))
    # Newcombe (1998) Table I, 4 d.p., from memory
    pub <- list(wilson = rbind(c(.2553,.3662),c(.0624,.1605),c(0,.1611),c(.0061,.1718)), wilson_cc = rbind(c(.2535,.3682),c(.0598,.1644),c(0,.2005),c(.0018,.1963)),
      clopper_pearson = rbind(c(.2527,.3676),c(.0578,.1617),c(0,.1684),c(.0009,.1776)), mid_p = rbind(c(.2544,.3658),c(.0601,.1581),c(0,.1391),c(.0017,.1585)))
    agree <- lapply(names(pub), function(m) { cm <- t(sapply(computed, function(r) r[[m]])); list(method = m, published = pub[[m]], max_abs_diff = max(abs(cm - pub[[m]])), agrees_4dp = all(abs(cm - pub[[m]]) < 0.000051)) })
    list(computed = computed, published_check = agree, prop_test_wilson = lapply(1:4, function(i) suppressWarnings(prop.test(data$x[i], data$n[i], correct = FALSE))$conf.int[1:2]), binom_test_cp = lapply(1:4, function(i) binom.test(data$x[i], data$n[i])$conf.int[1:2]))
  }
print(f(data), digits = 17)
