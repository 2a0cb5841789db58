library(survival)
# Breast cosmesis (46 RT, 48 RCT)
# Source: Finkelstein DM, Wolfe RA (1985) A semiparametric model for regression analysis of interval-censored failure time data. Biometrics 41:933-945 (provenance: public copy + memory)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, stats 4.2.2, survival 3.5.3
ic <- function(data) { gs <- unique(data$group); one <- function(d) { L <- d$left; R <- d$right; sf <- survival::survfit(survival::Surv(ifelse(L == 0, NA, L), ifelse(is.finite(R), R, NA), type = "interval2") ~ 1); list(npmle_half_open = npmle(L, R), survfit_interval2 = data.frame(time = sf$time, surv = sf$surv)) }
  r <- list(by_group = setNames(lapply(gs, function(g) one(data[data$group == g, ])), gs), pooled = one(data)); l1 <- sum(sapply(r$by_group, function(z) z$npmle_half_open$loglik)); r }
npmle <- function(L, R) { lv <- sort(unique(L)); rv <- sort(unique(R)); pts <- rbind(data.frame(x = lv, type = 1), data.frame(x = rv, type = 0)); pts <- pts[order(pts$x, pts$type), ]; ii <- which(pts$type[-nrow(pts)] == 1 & pts$type[-1] == 0); q <- pts$x[ii]; p <- pts$x[ii + 1]; A <- outer(L, q, "<=") & outer(R, p, ">="); A <- A*1; m <- length(q); n <- length(L); w <- rep(1/m, m)
  for (it in 1:20000) { den <- drop(A %*% w); wn <- w*drop(crossprod(A, 1/den))/n; if (max(abs(wn - w)) < 1e-13) { w <- wn; break }; w <- wn }
  act <- which(w > 1e-7); for (rep in 1:20) { z <- w[act]/sum(w[act]); B <- A[, act, drop = FALSE]; for (i in 1:100) { den <- drop(B %*% z); g <- drop(crossprod(B, 1/den)) - n; H <- -crossprod(B/den); k <- length(z); if (k == 1) break; K <- rbind(cbind(H, -1), c(rep(1, k), 0)); s <- tryCatch(qr.solve(K, c(-g, 0))[1:k], error = function(e) rep(0, k)); f <- 1; while (any(z + f*s < 0) && f > 1e-10) f <- f/2; z <- z + f*s; if (max(abs(s)) < 1e-14) break }
    w <- rep(0, m); w[act] <- z; gr <- drop(crossprod(A, 1/drop(A %*% w)))/n; bad <- setdiff(which(gr > 1 + 1e-9), act); drp <- act[z < 1e-12]; if (length(bad) == 0 && length(drp) == 0) break; act <- sort(union(setdiff(act, drp), bad)); w[bad] <- 1e-6; w <- w/sum(w) }
  S <- 1 - cumsum(w); list(intervals = data.frame(left_open = q, right_closed = p, mass = w, surv_after = pmax(0, S)), loglik = sum(log(drop(A %*% w))), kkt_max = max(gr)) }
data <- data.frame(
  left = c(
    45, 6, 0, 46, 46, 7, 17, 7, 37, 0, 4, 15, 11, 22, 46, 46, 25, 46, 26, 46, 27, 36, 46, 36, 37, 40, 17,
    46, 11, 38, 5, 37, 0, 18, 24, 36, 5, 19, 17, 24, 32, 33, 19, 37, 34, 36, 8, 0, 24, 17, 17, 24, 16, 13,
    11, 16, 18, 17, 32, 23, 44, 14, 0, 5, 12, 11, 33, 31, 13, 19, 34, 13, 16, 35, 15, 11, 22, 10, 30, 13,
    10, 8, 4, 11, 14, 4, 34, 30, 18, 16, 35, 21, 11, 48
  ),
  right = c(
    Inf, 10, 7, Inf, Inf, 16, Inf, 14, 44, 8, 11, Inf, 15, Inf, Inf, Inf, 37, Inf, 40, Inf, 34, 44, Inf,
    48, Inf, Inf, 25, Inf, 18, Inf, 12, Inf, 5, Inf, Inf, Inf, 11, 35, 25, Inf, Inf, Inf, 26, Inf, Inf,
    Inf, 12, 22, 31, 27, 23, 30, 24, Inf, 13, 20, 25, 26, Inf, Inf, 48, 17, 5, 8, 20, Inf, 40, Inf, 39, 32,
    Inf, Inf, 24, Inf, 22, 17, 32, 35, 34, Inf, 17, 21, 9, Inf, 19, 8, Inf, 36, 24, 60, 39, Inf, 20, Inf
  ),
  group = c(
    "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT",
    "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT",
    "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RT", "RCT", "RCT", "RCT", "RCT",
    "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT",
    "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT",
    "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT", "RCT",
    "RCT", "RCT"
  )
)
f <- function(data) ic(data)
print(f(data), digits = 17)
