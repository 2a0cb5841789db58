library(survival)
# survival::aml
# Source: Miller RG (1981) Survival Analysis (Embury et al. 1977) (provenance: R package data)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, stats 4.2.2, survival 3.5.3
km_all <- function(time, status, tau = NULL, conf = .95) { S <- survival::Surv(time, status); f <- lapply(c(log = "log", loglog = "log-log", plain = "plain"), function(ct) survival::survfit(S ~ 1, conf.type = ct, conf.int = conf)); b <- f$log; k <- b$n.event > 0 | TRUE
  tab <- data.frame(time = b$time, n_risk = b$n.risk, n_event = b$n.event, n_censor = b$n.censor, surv = b$surv, se_surv_greenwood = b$surv*b$std.err, lower_log = f$log$lower, upper_log = f$log$upper, lower_loglog = f$loglog$lower, upper_loglog = f$loglog$upper, lower_plain = f$plain$lower, upper_plain = f$plain$upper, nelson_aalen = b$cumhaz)
  med <- lapply(f, function(z) { q <- quantile(z, c(.25, .5, .75)); list(q = unname(q$quantile), lower = unname(q$lower), upper = unname(q$upper)) })
  if (is.null(tau)) tau <- max(time); rm <- summary(b, rmean = tau)$table; ev <- b$n.event > 0; tt <- b$time[ev & b$time <= tau]; d <- b$n.event[ev & b$time <= tau]; n <- b$n.risk[ev & b$time <= tau]; st <- stepfun(b$time, c(1, b$surv)); area <- function(a, z) { x <- sort(unique(c(a, b$time[b$time > a & b$time < z], z))); sum(diff(x)*st(x[-length(x)])) }
  A <- sapply(tt, function(x) if (x >= tau) 0 else area(x, tau)); term <- ifelse(n > d, A^2*d/(n*(n - d)), 0); v <- sum(term); nd <- sum(d)
  list(table = tab, quantiles_25_50_75 = med, rmst = list(tau = tau, survival_pkg = c(rmean = unname(rm["rmean"]), se = unname(rm["se(rmean)"])), own = c(rmst = area(0, tau), se = sqrt(v), se_with_m_over_m_minus_1 = sqrt(v*nd/(nd - 1))))) }
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
f <- function(data) lapply(c(list(all = data), split(data, data$group)), function(d) km_all(d$time, d$status, 31))
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
f <- function(data) lapply(c(list(all = data), split(data, data$group)), function(d) km_all(d$time, d$status, 23))
print(f(data), digits = 17)
