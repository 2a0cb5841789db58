library(survival)
# survival::aml
# Source: Miller RG (1981) Survival Analysis (Embury et al. 1977) (provenance: R package data)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, stats 4.2.2, survival 3.5.3
sv <- function(data, strata = NULL, tau = NULL, coxf = NULL) { gs <- unique(as.character(data$group)); r <- list(overall = km_all(data$time, data$status, tau), by_group = setNames(lapply(gs, function(g) km_all(data$time[data$group == g], data$status[data$group == g], tau)), gs), group_order_in_logrank = sort(gs))
  r$survdiff <- sdiff(survival::Surv(time, status) ~ group, data); r$survdiff_rho1 <- sdiff(survival::Surv(time, status) ~ group, data, 1); r$weighted_logrank_own <- wlogrank(data$time, data$status, data$group)
  if (!is.null(strata)) { r$survdiff_stratified <- sdiff(as.formula(paste0("survival::Surv(time, status) ~ group + strata(", strata, ")")), data); r$weighted_logrank_own_stratified <- wlogrank(data$time, data$status, data$group, data[[strata]]) }
  f <- if (is.null(coxf)) survival::Surv(time, status) ~ group else coxf; r$cox <- lapply(c(efron = "efron", breslow = "breslow", exact = "exact"), function(t) tryCatch(cox_one(f, data, t), error = function(e) list(error = conditionMessage(e)))); r }
cox_one <- function(f, data, ties) { m <- survival::coxph(f, data = data, ties = ties, control = survival::coxph.control(eps = 1e-13, toler.chol = 1e-14, iter.max = 100)); s <- summary(m); list(ties = ties, coef = data.frame(term = names(coef(m)), estimate = unname(coef(m)), hr = exp(unname(coef(m))), se = sqrt(diag(as.matrix(vcov(m)))), z = s$coefficients[, "z"], p = s$coefficients[, "Pr(>|z|)"], lower95 = s$conf.int[, "lower .95"], upper95 = s$conf.int[, "upper .95"], row.names = NULL), vcov = unname(vcov(m)), loglik = m$loglik, lrt = s$logtest, wald = s$waldtest, score = s$sctest) }
km_all <- function(time, status, tau = NULL, conf = .95) { S <- survival::Surv(time, status); f <- lapply(c(log = "log", loglog = "log-log", plain = "plain"), function(ct) survival::survfit(S ~ 1, conf.type = ct, conf.int = conf)); b <- f$log; k <- b$n.event > 0 | TRUE
  tab <- data.frame(time = b$time, n_risk = b$n.risk, n_event = b$n.event, n_censor = b$n.censor, surv = b$surv, se_surv_greenwood = b$surv*b$std.err, lower_log = f$log$lower, upper_log = f$log$upper, lower_loglog = f$loglog$lower, upper_loglog = f$loglog$upper, lower_plain = f$plain$lower, upper_plain = f$plain$upper, nelson_aalen = b$cumhaz)
  med <- lapply(f, function(z) { q <- quantile(z, c(.25, .5, .75)); list(q = unname(q$quantile), lower = unname(q$lower), upper = unname(q$upper)) })
  if (is.null(tau)) tau <- max(time); rm <- summary(b, rmean = tau)$table; ev <- b$n.event > 0; tt <- b$time[ev & b$time <= tau]; d <- b$n.event[ev & b$time <= tau]; n <- b$n.risk[ev & b$time <= tau]; st <- stepfun(b$time, c(1, b$surv)); area <- function(a, z) { x <- sort(unique(c(a, b$time[b$time > a & b$time < z], z))); sum(diff(x)*st(x[-length(x)])) }
  A <- sapply(tt, function(x) if (x >= tau) 0 else area(x, tau)); term <- ifelse(n > d, A^2*d/(n*(n - d)), 0); v <- sum(term); nd <- sum(d)
  list(table = tab, quantiles_25_50_75 = med, rmst = list(tau = tau, survival_pkg = c(rmean = unname(rm["rmean"]), se = unname(rm["se(rmean)"])), own = c(rmst = area(0, tau), se = sqrt(v), se_with_m_over_m_minus_1 = sqrt(v*nd/(nd - 1))))) }
sdiff <- function(f, data, rho = 0) { s <- survival::survdiff(f, data = data, rho = rho); list(obs = if (is.matrix(s$obs)) rowSums(s$obs) else s$obs, exp = if (is.matrix(s$exp)) rowSums(s$exp) else s$exp, var = unname(s$var), chisq = s$chisq, df = length(s$n) - 1, p = pchisq(s$chisq, length(s$n) - 1, lower.tail = FALSE)) }
wlogrank <- function(time, status, group, strata = NULL) { g <- factor(group); K <- nlevels(g); if (is.null(strata)) strata <- rep(1, length(time)); res <- list()
  for (w in c("logrank", "gehan_breslow", "tarone_ware", "peto_peto_Stilde_n_plus_1", "fleming_harrington_rho1_Sminus")) { U <- numeric(K); V <- matrix(0, K, K); O <- numeric(K); E <- numeric(K)
    for (s in unique(strata)) { i <- strata == s; tm <- time[i]; st <- status[i]; gg <- g[i]; Sm <- 1; St <- 1
      for (t in sort(unique(tm[st == 1]))) { n <- sapply(levels(g), function(l) sum(tm >= t & gg == l)); d <- sapply(levels(g), function(l) sum(tm == t & st == 1 & gg == l)); N <- sum(n); D <- sum(d); St <- St*(1 - D/(N + 1)); wt <- switch(w, logrank = 1, gehan_breslow = N, tarone_ware = sqrt(N), peto_peto_Stilde_n_plus_1 = St, fleming_harrington_rho1_Sminus = Sm); Sm <- Sm*(1 - D/N)
        e <- n*D/N; U <- U + wt*(d - e); O <- O + wt*d; E <- E + wt*e; if (N > 1) V <- V + wt^2*D*(N - D)/(N - 1)*(diag(n/N, K) - tcrossprod(n/N)) } }
    k <- seq_len(K - 1); q <- qr(V[k, k, drop = FALSE]); x <- if (q$rank < K - 1) NA else drop(U[k] %*% solve(V[k, k, drop = FALSE], U[k])); res[[w]] <- list(observed = O, expected = E, U = U, V = V, chisq = x, df = K - 1, p = pchisq(x, K - 1, lower.tail = FALSE)) }
  res }
data <- data.frame(
  time = c(
    9, 13, 13, 18, 23, 28, 31, 34, 45, 48, 161, 5, 5, 8, 8, 12, 16, 23, 27, 30, 33, 43, 45
  ),
  status = c(
    1, 1, 0, 1, 1, 0, 1, 1, 0, 1, 0, 1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1
  ),
  group = c(
    "Maintained", "Maintained", "Maintained", "Maintained", "Maintained", "Maintained", "Maintained",
    "Maintained", "Maintained", "Maintained", "Maintained", "Nonmaintained", "Nonmaintained",
    "Nonmaintained", "Nonmaintained", "Nonmaintained", "Nonmaintained", "Nonmaintained", "Nonmaintained",
    "Nonmaintained", "Nonmaintained", "Nonmaintained", "Nonmaintained"
  )
)
f <- function(data) sv(data, tau = 31)
print(f(data), digits = 17)

# MASS::gehan (6-MP), stratified by pair too
# Source: Gehan EA (1965) Biometrika 52:203-223; Freireich et al. (1963) (provenance: R package data)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, stats 4.2.2, survival 3.5.3
data <- data.frame(
  pair = c(
    "P1", "P1", "P2", "P2", "P3", "P3", "P4", "P4", "P5", "P5", "P6", "P6", "P7", "P7", "P8", "P8", "P9",
    "P9", "P10", "P10", "P11", "P11", "P12", "P12", "P13", "P13", "P14", "P14", "P15", "P15", "P16", "P16",
    "P17", "P17", "P18", "P18", "P19", "P19", "P20", "P20", "P21", "P21"
  ),
  time = c(
    1, 10, 22, 7, 3, 32, 12, 23, 8, 22, 17, 6, 2, 16, 11, 34, 8, 32, 12, 25, 2, 11, 5, 20, 4, 19, 15, 6, 8,
    17, 23, 35, 5, 6, 11, 13, 4, 9, 1, 6, 8, 10
  ),
  status = c(
    1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 1, 1, 0, 1, 0, 1, 1,
    1, 1, 1, 0, 1, 0, 1, 0
  ),
  group = c(
    "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP",
    "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP",
    "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP",
    "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP",
    "control", "6-MP"
  )
)
f <- function(data) sv(data, strata = "pair", tau = 23)
print(f(data), digits = 17)

# Four varieties in three blocks, weekly looks: simulated here
set.seed(41)
data <- expand.grid(plant = 1:6, group = c("A", "B", "C", "D"), block = 1:3, stringsAsFactors = FALSE)
week <- 1 + floor(rexp(nrow(data), 0.12 * exp(0.3 * as.integer(factor(data$group)))))
data$time <- pmin(week, 9); data$status <- as.integer(week < 9 & runif(nrow(data)) < 0.9)
four <- function(data) {
  s <- survdiff(Surv(time, status) ~ group + strata(block), data)
  u <- survdiff(Surv(time, status) ~ group, data)
  m <- coxph(Surv(time, status) ~ group + strata(block), data, ties = "efron", control = coxph.control(eps = 1e-13, iter.max = 100))
  list(plain = list(chisq = u$chisq), stratified = list(chisq = s$chisq, observed = rowSums(s$obs), expected = rowSums(s$exp)),
    cox = list(coef = unname(coef(m)), vcov = unname(vcov(m)), loglik = m$loglik))
}
print(four(data), digits = 17)
