# Penicillin in rabbits (a=none cured, b=none died, c=1.5h cured, d=1.5h died)
# Source: Mantel N (1963); in R ?mantelhaen.test; Agresti A (1990) Categorical Data Analysis p.234
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, metafor 3.8.1, stats 4.2.2, survival 3.5.3

strat_run <- function(data) { o <- strat_all(data$a, data$b, data$c, data$d)
  arr <- array(rbind(data$a, data$c, data$b, data$d), c(2, 2, nrow(data))); ok <- apply(arr, 3, sum) > 1
  mt <- function(correct) { r <- tryCatch(mantelhaen.test(arr[, , ok], correct = correct), error = function(e) NULL); if (is.null(r)) NULL else list(stat = unname(r$statistic), p = r$p.value, est = unname(r$estimate), lower = r$conf.int[1], upper = r$conf.int[2]) }
  mf <- function(m) { r <- tryCatch(metafor::rma.mh(measure = m, ai = data$a, bi = data$b, ci = data$c, di = data$d, level = 95), error = function(e) NULL); if (is.null(r)) NULL else list(beta = as.numeric(r$beta), se = r$se, ci_lb = r$ci.lb, ci_ub = r$ci.ub, MH = r$MH, MHp = r$MHp, BD = r$BD, BDp = r$BDp, TA = r$TA, TAp = r$TAp, k_yi = r$k.yi) }
  ex <- tryCatch(mantelhaen.test(arr[, , ok], exact = TRUE), error = function(e) NULL)
  list(own_formula = o, mantelhaen_test_no_cc = mt(FALSE), mantelhaen_test_cc = mt(TRUE), exact_conditional = if (is.null(ex)) NULL else list(p = ex$p.value, est = unname(ex$estimate), lower = ex$conf.int[1], upper = ex$conf.int[2], note = "uniroot-based, ~4-6 digits for est/CI"), metafor_OR = mf("OR"), metafor_RD = mf("RD"), metafor_RR = mf("RR")) }
strat_all <- function(a, b, c, d, conf = .95) {
  # a=events grp1, b=non-events grp1, c=events grp2, d=non-events grp2 (vectors over strata)
  a <- as.numeric(a); b <- as.numeric(b); c <- as.numeric(c); d <- as.numeric(d) # avoid 32-bit integer overflow
  z <- qnorm(1 - (1 - conf)/2); n1 <- a + b; n2 <- c + d; N <- n1 + n2; m1 <- a + c; m0 <- b + d
  R <- a*d/N; S <- b*c/N; P <- (a + d)/N; Q <- (b + c)/N; or <- sum(R)/sum(S)
  v <- sum(P*R)/(2*sum(R)^2) + sum(P*S + Q*R)/(2*sum(R)*sum(S)) + sum(Q*S)/(2*sum(S)^2)
  E <- n1*m1/N; V <- n1*n2*m1*m0/(N^2*(N - 1)); use <- N > 1; dl <- sum(a[use] - E[use]); cmh <- dl^2/sum(V[use]); yates <- min(.5, abs(dl)); cmhc <- (abs(dl) - yates)^2/sum(V[use])
  W <- n1*n2/N; rd <- sum((a*n2 - c*n1)/N)/sum(W)
  Ps <- (n1^2*c - n2^2*a + n1*n2*(n2 - n1)/2)/N^2; Qs <- (a*(n2 - c) + c*(n1 - a))/(2*N); vs <- (rd*sum(Ps) + sum(Qs))/sum(W)^2
  vgr <- sum(a*b*n2^3/(n1*n2*N^2) + c*d*n1^3/(n1*n2*N^2))/sum(W)^2
  rr <- sum(a*n2/N)/sum(c*n1/N); vrr <- sum((m1*n1*n2 - a*c*N)/N^2)/(sum(a*n2/N)*sum(c*n1/N))
  # Breslow-Day with Tarone correction at the MH odds ratio
  ea <- mapply(function(a, n1, n2, m1) { if (m1 == 0 || m1 == n1 + n2) return(NA); A <- 1 - or; B <- n2 - m1 + or*(n1 + m1); C <- -or*n1*m1; if (abs(A) < 1e-12) return(-C/B); r <- (-B + c(-1, 1)*sqrt(B^2 - 4*A*C))/(2*A); r <- r[r >= max(0, m1 - n2) - 1e-12 & r <= min(n1, m1) + 1e-12]; r[1] }, a, n1, n2, m1)
  va <- 1/(1/ea + 1/(n1 - ea) + 1/(m1 - ea) + 1/(n2 - m1 + ea)); ok <- !is.na(ea); bd <- sum(((a - ea)^2/va)[ok]); tar <- bd - sum((a - ea)[ok])^2/sum(va[ok]); df <- sum(ok) - 1
  g <- function(e, se) c(estimate = e, se = se, lower = e - z*se, upper = e + z*se)
  list(mh_or = c(estimate = or, log = log(or), se_log_RBG = sqrt(v), lower = exp(log(or) - z*sqrt(v)), upper = exp(log(or) + z*sqrt(v))), cmh = c(stat = cmh, p = pchisq(cmh, 1, lower.tail = FALSE)), cmh_continuity = c(stat = cmhc, p = pchisq(cmhc, 1, lower.tail = FALSE)),
    mh_rd_sato = g(rd, sqrt(vs)), mh_rd_greenland_robins = g(rd, sqrt(vgr)), mh_rr = c(estimate = rr, se_log_GR = sqrt(vrr), lower = exp(log(rr) - z*sqrt(vrr)), upper = exp(log(rr) + z*sqrt(vrr))),
    breslow_day = c(stat = bd, stat_tarone = tar, df = df, p = pchisq(bd, df, lower.tail = FALSE), p_tarone = pchisq(tar, df, lower.tail = FALSE)), strata_used_in_breslow_day = sum(ok)) }
data <- data.frame(
  stratum = c("1/8", "1/4", "1/2", "1", "4"),
  a = c(0, 3, 6, 5, 2),
  b = c(6, 3, 0, 1, 0),
  c = c(0, 0, 2, 6, 5),
  d = c(5, 6, 4, 0, 0)
)
f <- function(data) strat_run(data)
print(f(data), digits = 17)
