# Newcombe 1998 Table II examples (a)-(h)
# Source: Newcombe RG (1998) Interval estimation for the difference between independent proportions: comparison of eleven methods. Statistics in Medicine 17:873-890
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, stats 4.2.2, survival 3.5.3

tp <- function(data) lapply(seq_len(nrow(data)), function(i) two_prop_all(data$x1[i], data$n1[i], data$x2[i], data$n2[i]))
two_prop_all <- function(x1, n1, x2, n2, conf = 0.95) { z <- qnorm(1 - (1 - conf)/2); p1 <- x1/n1; p2 <- x2/n2; m <- matrix(c(x1, n1 - x1, x2, n2 - x2), 2)
  ft <- fisher.test(m, conf.level = conf); g <- function(alt) fisher.test(m, alternative = alt)$p.value
  ch <- suppressWarnings(chisq.test(m, correct = FALSE)); chc <- suppressWarnings(chisq.test(m, correct = TRUE))
  se <- sqrt(p1*(1 - p1)/n1 + p2*(1 - p2)/n2); serr <- sqrt(1/x1 - 1/n1 + 1/x2 - 1/n2); a <- x1; b <- n1 - x1; c_ <- x2; d <- n2 - x2
  rr5 <- ((x1 + .5)/(n1 + .5))/((x2 + .5)/(n2 + .5)); serr5 <- sqrt(1/(x1 + .5) - 1/(n1 + .5) + 1/(x2 + .5) - 1/(n2 + .5))
  lor <- log(a*d/(b*c_)); selor <- sqrt(1/a + 1/b + 1/c_ + 1/d); lor5 <- log((a + .5)*(d + .5)/((b + .5)*(c_ + .5))); selor5 <- sqrt(1/(a + .5) + 1/(b + .5) + 1/(c_ + .5) + 1/(d + .5))
  list(x1 = x1, n1 = n1, x2 = x2, n2 = n2, conf = conf, p1 = p1, p2 = p2, diff = p1 - p2, wald_diff = c(se = se, lower = p1 - p2 - z*se, upper = p1 - p2 + z*se), newcombe10 = newcombe10(x1, n1, x2, n2, conf), miettinen_nurminen_rd = score_rd(x1, n1, x2, n2, conf, TRUE), mee_rd = score_rd(x1, n1, x2, n2, conf, FALSE),
    rr_katz_log = c(estimate = p1/p2, se_log = serr, lower = exp(log(p1/p2) - z*serr), upper = exp(log(p1/p2) + z*serr)), rr_walter_half = c(estimate = rr5, se_log = serr5, lower = exp(log(rr5) - z*serr5), upper = exp(log(rr5) + z*serr5)),
    rr_koopman = score_rr(x1, n1, x2, n2, conf, FALSE), rr_miettinen_nurminen = score_rr(x1, n1, x2, n2, conf, TRUE),
    or_woolf = c(estimate = exp(lor), se_log = selor, lower = exp(lor - z*selor), upper = exp(lor + z*selor)), or_haldane_anscombe = c(estimate = exp(lor5), se_log = selor5, lower = exp(lor5 - z*selor5), upper = exp(lor5 + z*selor5)),
    fisher = list(p_two_sided = ft$p.value, p_less = g("less"), p_greater = g("greater"), mid_p_two_sided = fisher_mid_p(x1, n1, x2, n2), cond_or_exact = fisher_cond_or(x1, n1, x2, n2, conf), cond_or_fisher_test_loose_tol = c(estimate = unname(ft$estimate), lower = ft$conf.int[1], upper = ft$conf.int[2])),
    chisq_pearson = c(stat = unname(ch$statistic), p = ch$p.value), chisq_yates = c(stat = unname(chc$statistic), p = chc$p.value)) }
fisher_cond_or <- function(x1, n1, x2, n2, conf = 0.95) { m <- x1 + x2; s <- max(0, m - n2):min(n1, m); ld <- dhyper(s, n1, n2, m, log = TRUE); if (length(s) == 1) return(c(estimate = 0, lower = 0, upper = Inf))
  pr <- function(l) { w <- ld + l*s; w <- exp(w - max(w)); w/sum(w) }; a <- (1 - conf)/2
  est <- if (x1 == min(s)) 0 else if (x1 == max(s)) Inf else exp(bisect(function(l) sum(s*pr(l)) - x1, -60, 60))
  lo <- if (x1 == min(s)) 0 else exp(bisect(function(l) sum(pr(l)[s >= x1]) - a, -60, 60)); hi <- if (x1 == max(s)) Inf else exp(bisect(function(l) sum(pr(l)[s <= x1]) - a, -60, 60)); c(estimate = est, lower = lo, upper = hi) }
bisect <- function(f, a, b, it = 200) { fa <- f(a); fb <- f(b); if (fa == 0) return(a); if (fb == 0) return(b); for (i in 1:it) { m <- (a + b)/2; fm <- f(m); if (fm == 0 || m == a || m == b) return(m); if ((fm > 0) == (fa > 0)) { a <- m; fa <- fm } else { b <- m } }; (a + b)/2 }
fisher_mid_p <- function(x1, n1, x2, n2) { m <- x1 + x2; s <- max(0, m - n2):min(n1, m); d <- dhyper(s, n1, n2, m); o <- dhyper(x1, n1, n2, m); eq <- abs(d - o) <= 1e-7*o; sum(d[d < o & !eq]) + .5*sum(d[eq]) }
newcombe10 <- function(x1, n1, x2, n2, conf = 0.95) { p1 <- x1/n1; p2 <- x2/n2; w1 <- wilson(x1, n1, conf); w2 <- wilson(x2, n2, conf); d <- p1 - p2
  c(estimate = d, lower = d - sqrt((p1 - w1[["lower"]])^2 + (w2[["upper"]] - p2)^2), upper = d + sqrt((w1[["upper"]] - p1)^2 + (p2 - w2[["lower"]])^2)) }
wilson <- function(x, n, conf = 0.95) { z <- qnorm(1 - (1 - conf)/2); p <- x/n
  c0 <- (x + z^2/2)/(n + z^2); h <- z*sqrt(n)/(n + z^2)*sqrt(p*(1 - p) + z^2/(4*n))
  lo <- if (x == 0) 0 else c0 - h; hi <- if (x == n) 1 else c0 + h; c(lower = lo, upper = hi) }
score_rd <- function(x1, n1, x2, n2, conf = 0.95, mn = TRUE) { z <- qnorm(1 - (1 - conf)/2); dh <- x1/n1 - x2/n2; N <- n1 + n2; k <- if (mn) N/(N - 1) else 1
  zz <- function(d) { r <- rd_rmle(x1, n1, x2, n2, d); v <- k*(r[1]*(1 - r[1])/n1 + r[2]*(1 - r[2])/n2); u <- dh - d; if (abs(u) < 1e-15) 0 else if (v <= 0) sign(u)*1e10 else unname(u/sqrt(v)) }
  lo <- if (dh <= -1 + 1e-12) -1 else bisect(function(d) zz(d) - z, -1 + 1e-13, dh); hi <- if (dh >= 1 - 1e-12) 1 else bisect(function(d) zz(d) + z, dh, 1 - 1e-13)
  c(estimate = dh, lower = lo, upper = hi, z_null = zz(0), p_null = 2*pnorm(-abs(zz(0)))) }
rd_rmle <- function(x1, n1, x2, n2, d) { lo <- max(0, -d); hi <- min(1, 1 - d)
  g <- function(p2) { p1 <- p2 + d; t <- 0; if (x1 > 0) t <- t + x1/p1; if (n1 > x1) t <- t - (n1 - x1)/(1 - p1); if (x2 > 0) t <- t + x2/p2; if (n2 > x2) t <- t - (n2 - x2)/(1 - p2); t }
  e <- (hi - lo)*1e-15; gl <- g(lo + e); gh <- g(hi - e); p2 <- if (is.nan(gl) || is.nan(gh)) (lo+hi)/2 else if (gl <= 0) lo else if (gh >= 0) hi else bisect(g, lo + e, hi - e); c(p1 = min(1, max(0, p2 + d)), p2 = p2) }
score_rr <- function(x1, n1, x2, n2, conf = 0.95, mn = FALSE) { if (x1 == 0 && x2 == 0) return(c(estimate = NaN, lower = 0, upper = Inf)); z2 <- qchisq(conf, 1); N <- n1 + n2; k <- if (mn) N/(N - 1) else 1
  est <- (x1/n1)/(x2/n2)
  st <- function(lt) { th <- exp(lt); r <- rr_rmle(x1, n1, x2, n2, th); u <- x1/n1 - th*x2/n2; v <- k*(r[1]*(1 - r[1])/n1 + th^2*r[2]*(1 - r[2])/n2); if (abs(u) < 1e-300) 0 else unname(u^2/v) }
  le <- if (x1 == 0) -40 else if (x2 == 0) 40 else log(est)
  lo <- if (x1 == 0) 0 else exp(bisect(function(l) st(l) - z2, -40, if (x2 == 0) 30 else le)); hi <- if (x2 == 0) Inf else exp(bisect(function(l) st(l) - z2, if (x1 == 0) -30 else le, 40))
  c(estimate = est, lower = lo, upper = hi) }
rr_rmle <- function(x1, n1, x2, n2, th) { a <- (n1 + n2)*th; b <- -(n1*th + x1 + n2 + x2*th); cc <- x1 + x2; p2 <- (-b - sqrt(b^2 - 4*a*cc))/(2*a); c(p1 = th*p2, p2 = p2) }
data <- data.frame(
  label = c("a", "b", "c", "d", "e", "f", "g", "h"),
  x1 = c(56, 9, 6, 5, 0, 0, 10, 10),
  n1 = c(70, 10, 7, 56, 10, 10, 10, 10),
  x2 = c(48, 3, 2, 0, 0, 0, 0, 0),
  n2 = c(80, 10, 7, 29, 20, 10, 20, 10)
)
f <- function(data) { r <- tp(data)
    pub10 <- rbind(c(.0524, .3339), c(.1705, .8090), c(.0582, .8062), c(-.0381, .1926), c(-.1611, .2775), c(-.2775, .2775), c(.6791, 1), c(.6075, 1))
    pubMN <- rbind(c(.0528, .3382), c(.1700, .8406), c(.0342, .8534), c(-.0326, .1933), c(-.1658, .2844), c(-.2879, .2879), c(.7156, 1), c(.6636, 1))
    pubMee <- rbind(c(.0533, .3377), c(.1821, .8370), c(.0544, .8478), c(-.0313, .1926), c(-.1611, .2775), c(-.2775, .2775), c(.7225, 1), c(.6777, 1))
    g <- function(m) t(sapply(r, function(z) z[[m]][c("lower", "upper")]))
    list(computed = r, published_check = list(newcombe10 = list(published = pub10, max_abs_diff = max(abs(g("newcombe10") - pub10))), miettinen_nurminen = list(published = pubMN, max_abs_diff = max(abs(g("miettinen_nurminen_rd") - pubMN))), mee = list(published = pubMee, max_abs_diff = max(abs(g("mee_rd") - pubMee))))) }
print(f(data), digits = 17)
