# brglm2::endometrial (NV quasi-separated)
# Source: Heinze G, Schemper M (2002) A solution to the problem of separation in logistic regression. Statistics in Medicine 21:2409-2419 (data from Asseryanis, Agresti 2015) (provenance: R package data)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages brglm2 0.9, MASS 7.3.58.2, stats 4.2.2, survival 3.5.3
firth_all <- function(X, y, n, conf = .95) { f <- firth_fit(X, y, n); k <- ncol(X); mu <- plogis(drop(X %*% f$b)); se <- sqrt(diag(solve(crossprod(X*sqrt(n*mu*(1 - mu)))))); q <- qchisq(conf, 1)/2
  ci <- t(sapply(1:k, function(j) { g <- function(v) firth_fit(X, y, n, j, v, f$b)$pll - (f$pll - q); s <- se[j]; up <- f$b[j] + s; it <- 0; while (g(up) > 0 && it < 60) { up <- up + s; it <- it + 1 }; lo <- f$b[j] - s; it <- 0; while (g(lo) > 0 && it < 60) { lo <- lo - s; it <- it + 1 }
    c(if (g(lo) > 0) -Inf else bisect(g, lo, f$b[j], 60), if (g(up) > 0) Inf else bisect(g, f$b[j], up, 60)) }))
  lr <- sapply(1:k, function(j) 2*(f$pll - firth_fit(X, y, n, j, 0, f$b)$pll))
  data.frame(term = colnames(X), estimate = f$b, se = se, wald_z = f$b/se, wald_p = 2*pnorm(-abs(f$b/se)), profile_lower = ci[, 1], profile_upper = ci[, 2], plr_chisq = lr, plr_p = pchisq(lr, 1, lower.tail = FALSE)) -> tab
  list(table = tab, penalized_loglik = f$pll, max_modified_score = f$max_score, fitted = mu) }
bisect <- function(f, a, b, it = 200) { fa <- f(a); fb <- f(b); if (fa == 0) return(a); if (fb == 0) return(b); for (i in 1:it) { m <- (a + b)/2; fm <- f(m); if (fm == 0 || m == a || m == b) return(m); if ((fm > 0) == (fa > 0)) { a <- m; fa <- fm } else { b <- m } }; (a + b)/2 }
firth_fit <- function(X, y, n, fix = integer(), val = numeric(), start = NULL) { k <- ncol(X); b <- if (is.null(start)) rep(0, k) else start; b[fix] <- val; free <- setdiff(seq_len(k), fix); off <- 0
  if (length(free) == 0) return(list(b = b, pll = firth_pll(b, X, y, n)))
  pl <- firth_pll(b, X, y, n)
  for (it in 1:500) { eta <- drop(X %*% b); mu <- plogis(eta); w <- n*mu*plogis(-eta); I <- crossprod(X*sqrt(w)); Ii <- solve(I); h <- rowSums((X*sqrt(w)) %*% Ii*(X*sqrt(w))); U <- crossprod(X, y - n*mu + h*(.5 - mu)); st <- rep(0, k); st[free] <- solve(I[free, free, drop = FALSE], U[free]); mx <- max(abs(st)); if (mx > 5) st <- st*5/mx
    f <- 1; repeat { bn <- b + f*st; pn <- firth_pll(bn, X, y, n); if (pn >= pl - 1e-13 || f < 1e-8) break; f <- f/2 }; b <- bn; pl <- pn; if (max(abs(st)) < 1e-13) break }
  list(b = b, pll = pl, iter = it, max_score = max(abs(U[free]))) }
firth_pll <- function(b, X, y, n, off = 0) { eta <- drop(X %*% b) + off; ll <- sum(-y*log1p(exp(-eta)) - (n - y)*log1p(exp(eta))); mu <- plogis(eta); w <- n*mu*plogis(-eta); I <- crossprod(X*sqrt(w)); dt <- determinant(I, logarithm = TRUE); if (dt$sign <= 0) -1e300 else ll + .5*as.numeric(dt$modulus) }
data <- data.frame(
  NV = c(
    0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0,
    0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
    0, 0, 1, 0, 0, 0, 1, 1, 0, 1, 0
  ),
  PI = c(
    13, 16, 8, 34, 20, 5, 17, 10, 26, 17, 8, 7, 20, 10, 18, 16, 18, 8, 29, 12, 20, 38, 22, 7, 25, 15, 7,
    28, 11, 19, 10, 10, 18, 14, 21, 11, 17, 25, 16, 19, 15, 33, 24, 48, 12, 19, 2, 22, 40, 5, 0, 21, 15,
    29, 15, 12, 3, 20, 23, 12, 22, 42, 15, 13, 14, 19, 12, 13, 10, 12, 49, 6, 5, 17, 11, 21, 5, 19, 33
  ),
  EH = c(
    1.64, 2.26, 3.14, 2.68, 1.28, 2.31, 1.8, 1.68, 1.56, 2.31, 2.01, 1.89, 3.15, 1.23, 1.27, 1.76, 2, 2.64,
    0.88, 1.27, 1.37, 0.97, 1.14, 0.88, 0.91, 0.58, 0.97, 1.5, 1.33, 2.37, 1.82, 3.13, 1.31, 1.92, 1.64,
    2.01, 1.88, 1.93, 2.11, 1.29, 1.72, 0.75, 1.92, 1.84, 1.11, 1.61, 1.18, 1.44, 1.18, 0.93, 1.17, 1.19,
    1.06, 2.02, 2.29, 2.33, 2.9, 1.7, 1.41, 2.25, 1.54, 1.97, 1.75, 2.16, 2.57, 1.37, 3.61, 2.04, 2.17,
    1.69, 0.27, 1.84, 1.3, 0.96, 1.01, 0.98, 0.35, 1.02, 0.85
  ),
  HG = c(
    0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0,
    0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
    0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1
  )
)
f <- function(data) { d <- as.data.frame(data); firth_all(model.matrix(~NV + PI + EH, d), d$HG, rep(1, nrow(d))) }
print(f(data), digits = 17)

# brglm2::lizards (grouped binomial)
# Source: Schoener TW (1970) Ecology 51:408-418; McCullagh & Nelder (1989) section 4.6 (provenance: R package data)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages brglm2 0.9, MASS 7.3.58.2, stats 4.2.2, survival 3.5.3
data <- data.frame(
  grahami = c(
    20, 8, 4, 13, 8, 12, 8, 4, 5, 6, 1, 34, 69, 18, 31, 55, 13, 17, 60, 8, 12, 21, 4
  ),
  opalinus = c(
    2, 1, 4, 0, 0, 0, 3, 1, 3, 0, 1, 11, 20, 10, 5, 4, 3, 15, 32, 8, 1, 5, 4
  ),
  height = c(
    "<5ft", "<5ft", "<5ft", ">=5ft", ">=5ft", ">=5ft", "<5ft", "<5ft", "<5ft", ">=5ft", ">=5ft", "<5ft",
    "<5ft", "<5ft", ">=5ft", ">=5ft", ">=5ft", "<5ft", "<5ft", "<5ft", ">=5ft", ">=5ft", ">=5ft"
  ),
  diameter = c(
    "<=2in", "<=2in", "<=2in", "<=2in", "<=2in", "<=2in", ">2in", ">2in", ">2in", ">2in", ">2in", "<=2in",
    "<=2in", "<=2in", "<=2in", "<=2in", "<=2in", ">2in", ">2in", ">2in", ">2in", ">2in", ">2in"
  ),
  light = c(
    "sunny", "sunny", "sunny", "sunny", "sunny", "sunny", "sunny", "sunny", "sunny", "sunny", "sunny",
    "shady", "shady", "shady", "shady", "shady", "shady", "shady", "shady", "shady", "shady", "shady",
    "shady"
  ),
  time = c(
    "early", "midday", "late", "early", "midday", "late", "early", "midday", "late", "early", "late",
    "early", "midday", "late", "early", "midday", "late", "early", "midday", "late", "early", "midday",
    "late"
  )
)
f <- function(data) { d <- transform(data, height = factor(height, levels = c("<5ft", ">=5ft")), diameter = factor(diameter, levels = c("<=2in", ">2in")), light = factor(light, levels = c("sunny", "shady")), time = factor(time, levels = c("early", "midday", "late"))); firth_all(model.matrix(~height + diameter + light + time, d), d$grahami, d$grahami + d$opalinus) }
print(f(data), digits = 17)
