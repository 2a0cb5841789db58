# Simulated designs
# Source: Own simulation, set.seed(1000+row) (provenance: simulated)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, stats 4.2.2, survival 3.5.3
cs <- function(data) lapply(seq_len(nrow(data)), function(i) { r <- data[i, ]; set.seed(1000 + i); nsim <- 20000; k <- r$plots; n <- r$size; bb <- function(p) { if (r$icc == 0) matrix(rbinom(nsim*k, n, p), nsim) else { s <- (1 - r$icc)/r$icc; matrix(rbinom(nsim*k, n, rbeta(nsim*k, p*s, (1 - p)*s)), nsim) } }; y1 <- bb(r$p1)/n; y2 <- bb(r$p2)/n; m1 <- rowMeans(y1); m2 <- rowMeans(y2); v1 <- rowSums((y1 - m1)^2)/(k - 1); v2 <- rowSums((y2 - m2)^2)/(k - 1); sp <- (v1 + v2)/2; t <- (m1 - m2)/sqrt(sp*2/k); t[!is.finite(t)] <- ifelse((m1 - m2)[!is.finite(t)] == 0, 0, Inf); pw <- mean(abs(t) > qt(.975, 2*k - 2)); de <- 1 + (n - 1)*r$icc; za <- qnorm(.975); d <- abs(r$p1 - r$p2); se <- sqrt((r$p1*(1 - r$p1) + r$p2*(1 - r$p2))*de/(k*n)); 
  dd <- tryCatch(uniroot(function(p2) { se <- sqrt((r$p1*(1 - r$p1) + p2*(1 - p2))*de/(k*n)); (p2 - r$p1)/se - (za + qnorm(.8)) }, c(r$p1 + 1e-9, 1 - 1e-9), tol = 1e-12)$root, error = function(e) NA)
  list(plots_per_variety = k, plants_per_plot = n, icc = r$icc, p1 = r$p1, p2 = r$p2, design_effect = de, formula_power_unpooled_normal = pnorm(d/se - za), formula_power_unpooled_t = { df <- 2*k - 2; nc <- d/se; tc <- qt(.975, df); pt(tc, df, nc, lower.tail = FALSE) + pt(-tc, df, nc) }, sim_power_t_on_plot_proportions = pw, sim_mc_se = sqrt(pw*(1 - pw)/nsim), nsim = nsim, detectable_p2_at_80_normal = dd) })
data <- data.frame(
  plots = c(
    4, 6, 8
  ),
  size = c(
    12, 10, 8
  ),
  icc = c(
    0.05, 0.1, 0
  ),
  p1 = c(
    0.1, 0.2, 0.15
  ),
  p2 = c(
    0.4, 0.5, 0.4
  )
)
f <- function(data) cs(data)
print(f(data), digits = 17)

# R documentation examples and simple cases
# Source: R ?power.prop.test, ?power.t.test, ?power.anova.test (provenance: constructed)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, stats 4.2.2, survival 3.5.3
pw <- function(data) { g <- data; lapply(seq_len(nrow(g)), function(i) { r <- g[i, ]; if (r$type == "prop") { list(type = "prop", n = r$n, p1 = r$a, p2 = r$b, sig = r$sig, power = power.prop.test(n = r$n, p1 = r$a, p2 = r$b, sig.level = r$sig)$power, power_strict = power.prop.test(n = r$n, p1 = r$a, p2 = r$b, sig.level = r$sig, strict = TRUE)$power, n_for_80 = power.prop.test(p1 = r$a, p2 = r$b, sig.level = r$sig, power = .8, tol = 1e-12)$n, n_for_90 = power.prop.test(p1 = r$a, p2 = r$b, sig.level = r$sig, power = .9, tol = 1e-12)$n, detectable_p2_above_at_80 = tryCatch(power.prop.test(n = r$n, p1 = r$a, power = .8, sig.level = r$sig, tol = 1e-12)$p2, error = function(e) NA)) }
  else if (r$type == "t") list(type = "t", n = r$n, delta = r$a, sd = r$b, sig = r$sig, power_two_sample = power.t.test(n = r$n, delta = r$a, sd = r$b, sig.level = r$sig)$power, power_two_sample_strict = power.t.test(n = r$n, delta = r$a, sd = r$b, sig.level = r$sig, strict = TRUE)$power, power_paired = power.t.test(n = r$n, delta = r$a, sd = r$b, sig.level = r$sig, type = "paired")$power, power_one_sided = power.t.test(n = r$n, delta = r$a, sd = r$b, sig.level = r$sig, alternative = "one.sided")$power, n_for_80 = power.t.test(delta = r$a, sd = r$b, power = .8, sig.level = r$sig, tol = 1e-12)$n, delta_for_80 = power.t.test(n = r$n, sd = r$b, power = .8, sig.level = r$sig, tol = 1e-12)$delta)
  else { k <- r$a; f2 <- r$b; list(type = "anova", groups = k, n = r$n, between_var = f2, within_var = 1, sig = r$sig, power = power.anova.test(groups = k, n = r$n, between.var = f2, within.var = 1, sig.level = r$sig)$power, n_for_80 = power.anova.test(groups = k, between.var = f2, within.var = 1, power = .8, sig.level = r$sig)$n, noncentrality = (k - 1)*r$n*f2) } }) }
data <- data.frame(
  type = c(
    "prop", "prop", "prop", "t", "t", "anova", "anova"
  ),
  n = c(
    50, 24, 12, 20, 5, 5, 4
  ),
  a = c(
    0.5, 0.1, 0.2, 1, 1.5, 4, 6
  ),
  b = c(
    0.75, 0.4, 0.7, 1, 1, 0.3333333333333333, 0.5
  ),
  sig = c(
    0.05, 0.05, 0.05, 0.05, 0.05, 0.05, 0.05
  )
)
f <- function(data) pw(data)
print(f(data), digits = 17)
