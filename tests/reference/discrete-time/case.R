library(survival)
# MASS::gehan grouped into 5-week inspection periods
# Source: Gehan EA (1965) Biometrika 52:203-223 (provenance: R package data)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, stats 4.2.2, survival 3.5.3
dt <- function(data, block = FALSE) { z <- pp(data); z$period <- factor(z$period); z$group <- factor(z$group); z$block <- factor(z$block); ctl <- glm.control(epsilon = 1e-13, maxit = 100); f0 <- if (block) y ~ period + block - 1 else y ~ period - 1; f1 <- update(f0, . ~ . + group)
  go <- function(link) { m0 <- glm(f0, binomial(link), z, control = ctl); m1 <- glm(f1, binomial(link), z, control = ctl); list(coef = coef_tab(m1), deviance = deviance(m1), deviance_null_group = deviance(m0), lr_chisq = deviance(m0) - deviance(m1), df = m0$df.residual - m1$df.residual, lr_p = pchisq(deviance(m0) - deviance(m1), m0$df.residual - m1$df.residual, lower.tail = FALSE)) }
  lt <- aggregate(cbind(events = z$y, at_risk = 1) ~ period + group, z, sum); list(life_table = lt, cloglog = go("cloglog"), logit = go("logit")) }
coef_tab <- function(m) { s <- summary(m)$coefficients; d <- as.data.frame(s); d <- cbind(data.frame(term = rownames(s), stringsAsFactors = FALSE), d); rownames(d) <- NULL; names(d) <- c("term", "estimate", "se", "stat", "p")[seq_along(d)]; d }
pp <- function(d) { do.call(rbind, lapply(seq_len(nrow(d)), function(i) data.frame(group = d$group[i], block = d$block[i], period = seq_len(d$period[i]), y = c(rep(0, d$period[i] - 1), d$status[i])))) }
data <- data.frame(
  group = c(
    "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP",
    "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP",
    "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP",
    "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP", "control", "6-MP",
    "control", "6-MP"
  ),
  block = c(
    "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1",
    "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1", "1",
    "1", "1"
  ),
  period = c(
    1, 2, 5, 2, 1, 7, 3, 5, 2, 5, 4, 2, 1, 4, 3, 7, 2, 7, 3, 5, 1, 3, 1, 4, 1, 4, 3, 2, 2, 4, 5, 7, 1, 2,
    3, 3, 1, 2, 1, 2, 2, 2
  ),
  status = c(
    1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 1, 1, 0, 1, 0, 1, 1,
    1, 1, 1, 0, 1, 0, 1, 0
  )
)
f <- function(data) dt(data)
print(f(data), digits = 17)
