# Disease scores 1-5, 2 varieties x 3 blocks x 4 (constructed)
# Source: Constructed (provenance: constructed)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages coin 1.4.2, MASS 7.3.58.2, numDeriv 2016.8.1.1, stats 4.2.2, survival 3.5.3
ps <- function(x, y) { n1 <- length(x); n2 <- length(y); D <- outer(x, y, function(a, b) sign(b - a)); d <- mean(D); di <- rowMeans(D); dj <- colMeans(D); s1 <- sum((di - d)^2)/(n1 - 1); s2 <- sum((dj - d)^2)/(n2 - 1); sij <- (sum((D - d)^2))/(n1*n2 - 1); v_unb <- (n2^2*sum((di - d)^2) + n1^2*sum((dj - d)^2) - sum((D - d)^2))/(n1*n2*(n1 - 1)*(n2 - 1)); v_con <- ((n2 - 1)*s1 + (n1 - 1)*s2 + sij)/(n1*n2); z <- qnorm(.975); se <- sqrt(v_con); fc <- (d - d^3 + c(-1, 1)*z*se*sqrt((1 - d^2)^2 + z^2*v_con))/(1 - d^2 + z^2*v_con)
  N <- n1 + n2; r <- rank(c(x, y)); r1 <- rank(x); r2 <- rank(y); m1 <- mean(r[1:n1]); m2 <- mean(r[-(1:n1)]); p <- (m2 - (n2 + 1)/2)/n1; S1 <- sum((r[1:n1] - r1 - m1 + (n1 + 1)/2)^2)/(n1 - 1); S2 <- sum((r[-(1:n1)] - r2 - m2 + (n2 + 1)/2)^2)/(n2 - 1); bm <- n1*n2*(m2 - m1)/(N*sqrt(n1*S1 + n2*S2)); df <- (n1*S1 + n2*S2)^2/((n1*S1)^2/(n1 - 1) + (n2*S2)^2/(n2 - 1)); sep <- sqrt(S1/(n1*n2^2) + S2/(n2*n1^2))
  dt <- data.frame(y = c(x, y), g = factor(rep(1:2, c(n1, n2)))); w <- suppressWarnings(wilcox.test(x, y)); wn <- suppressWarnings(wilcox.test(x, y, exact = FALSE, correct = FALSE)); list(prob_superiority = p, brunner_munzel = list(stat = bm, df = df, p = 2*pt(-abs(bm), df), se_p = sep, lower = p - qt(.975, df)*sep, upper = p + qt(.975, df)*sep), cliff_delta = list(delta = d, var_unbiased = v_unb, var_consistent = v_con, normal_ci_consistent = d + c(-1, 1)*z*se, feng_cliff_ci_consistent = fc), wilcoxon = list(W = unname(w$statistic), p_R_default = w$p.value, p_asymptotic_no_cc = wn$p.value, p_exact_coin = as.numeric(coin::pvalue(coin::wilcox_test(y ~ g, dt, distribution = "exact"))))) }
van_elteren <- function(y, g, b) { gl <- unique(g); T <- E <- V <- 0; for (k in unique(b)) { i <- b == k; n <- sum(i); r <- rank(y[i]); n1 <- sum(g[i] == gl[1]); w <- 1/(n + 1); T <- T + w*sum(r[g[i] == gl[1]]); E <- E + w*n1*(n + 1)/2; V <- V + w^2*n1*(n - n1)/n*sum((r - mean(r))^2)/(n - 1) }; z <- (T - E)/sqrt(V); d <- data.frame(y, g = factor(g, levels = gl), b = factor(b)); co <- coin::wilcox_test(y ~ g | b, d); list(van_elteren = c(z = z, p = 2*pnorm(-abs(z))), coin_blocked_wilcoxon_unweighted = c(z = as.numeric(coin::statistic(co)), p = as.numeric(coin::pvalue(co)))) }
data <- data.frame(
  variety = c(
    "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "B", "B", "B", "B", "B", "B", "B", "B",
    "B", "B", "B", "B"
  ),
  block = c(
    "B1", "B1", "B1", "B1", "B2", "B2", "B2", "B2", "B3", "B3", "B3", "B3", "B1", "B1", "B1", "B1", "B2",
    "B2", "B2", "B2", "B3", "B3", "B3", "B3"
  ),
  y = c(
    1, 2, 2, 3, 2, 1, 1, 2, 3, 2, 2, 1, 3, 2, 4, 3, 3, 4, 2, 5, 3, 4, 4, 2
  )
)
f <- function(data) list(ps = ps(data$y[data$variety == "A"], data$y[data$variety == "B"]), van_elteren = van_elteren(data$y, data$variety, data$block))
print(f(data), digits = 17)
