# Crowder 1978 Orobanche seed germination, 21 plates
# Source: Crowder MJ (1978) Beta-binomial Anova for proportions. Applied Statistics 27:34-37 (provenance: memory, verified against public copy)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages car 3.1.1, emmeans 1.8.4.1, glmmTMB 1.1.5, MASS 7.3.58.2, numDeriv 2016.8.1.1, stats 4.2.2, survival 3.5.3
quasi_all <- function(form, data, emm = NULL) {
  m <- glm(form, family = quasibinomial, data = data, control = glm.control(epsilon = 1e-14, maxit = 200)); b <- update(m, family = binomial)
  phi <- sum(residuals(m, "pearson")^2)/m$df.residual
  a <- anova(m, test = "F"); aII <- car::Anova(m, type = 2, test.statistic = "F", error.estimate = "pearson"); d1 <- drop1(m, test = "F")
  r <- list(coef = coef_tab(m), vcov = unname(vcov(m)), dispersion_pearson = phi, dispersion_deviance = deviance(m)/m$df.residual, deviance = deviance(m), null_deviance = m$null.deviance, df_residual = m$df.residual, pearson_X2 = sum(residuals(m, "pearson")^2), binomial_se = unname(sqrt(diag(vcov(b)))),
    anova_sequential_F_pearson = an_tab(a), anova_typeII_F_pearson = an_tab(aII), drop1_F_uses_deviance_dispersion = an_tab(d1), fitted = unname(fitted(m)))
  if (!is.null(emm)) { e <- emmeans::emmeans(m, emm); rd <- m$df.residual
    r$emm_link_asymptotic <- emm_tab(e); e2 <- emmeans::emmeans(m, emm, df = rd); r$emm_link_tdf <- emm_tab(e2); r$emm_response_tdf <- emm_tab(summary(e2, type = "response"))
    r$pairs_link_tukey_tdf <- emm_tab(summary(pairs(e2), infer = TRUE)); r$pairs_link_unadjusted_tdf <- emm_tab(summary(pairs(e2, adjust = "none"), infer = TRUE)) }
  r }
an_tab <- function(a) { d <- as.data.frame(a); cbind(data.frame(term = trimws(rownames(d)), stringsAsFactors = FALSE), setNames(d, gsub("[^A-Za-z0-9]+", "_", names(d)))) -> r; rownames(r) <- NULL; r }
coef_tab <- function(m) { s <- summary(m)$coefficients; d <- as.data.frame(s); d <- cbind(data.frame(term = rownames(s), stringsAsFactors = FALSE), d); rownames(d) <- NULL; names(d) <- c("term", "estimate", "se", "stat", "p")[seq_along(d)]; d }
emm_tab <- function(e) { d <- if (inherits(e, "summary_emm")) e else summary(e); class(d) <- "data.frame"; attributes(d) <- attributes(d)[c("names", "row.names", "class")]; for (n in names(d)) if (is.factor(d[[n]])) d[[n]] <- as.character(d[[n]]); names(d) <- gsub("\\.", "_", names(d)); d }
data <- data.frame(
  plate = c(
    "P1", "P2", "P3", "P4", "P5", "P6", "P7", "P8", "P9", "P10", "P11", "P12", "P13", "P14", "P15", "P16",
    "P17", "P18", "P19", "P20", "P21"
  ),
  seed = c(
    "O75", "O75", "O75", "O75", "O75", "O75", "O75", "O75", "O75", "O75", "O75", "O73", "O73", "O73",
    "O73", "O73", "O73", "O73", "O73", "O73", "O73"
  ),
  extract = c(
    "bean", "bean", "bean", "bean", "bean", "cucumber", "cucumber", "cucumber", "cucumber", "cucumber",
    "cucumber", "bean", "bean", "bean", "bean", "bean", "cucumber", "cucumber", "cucumber", "cucumber",
    "cucumber"
  ),
  y = c(
    10, 23, 23, 26, 17, 5, 53, 55, 32, 46, 10, 8, 10, 8, 23, 0, 3, 22, 15, 32, 3
  ),
  n = c(
    39, 62, 81, 51, 39, 6, 74, 72, 51, 79, 13, 16, 30, 28, 45, 4, 12, 41, 30, 51, 7
  )
)
f <- function(data) { d <- transform(data, seed = factor(seed, levels = c("O75", "O73")), extract = factor(extract, levels = c("bean", "cucumber"))); y <- d$y; n <- d$n
  list(main = quasi_all(cbind(y, n - y) ~ seed + extract, d, ~extract), interaction = quasi_all(cbind(y, n - y) ~ seed*extract, d, ~seed:extract)) }
print(f(data), digits = 17)

# lme4::cbpp period + herd (herd as block)
# Source: Lesnoff M et al. (2004) Preventive Veterinary Medicine 64:27-40 (provenance: R package data)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages car 3.1.1, emmeans 1.8.4.1, MASS 7.3.58.2, numDeriv 2016.8.1.1, stats 4.2.2, survival 3.5.3
data <- data.frame(
  herd = c(
    "H1", "H1", "H1", "H1", "H2", "H2", "H2", "H3", "H3", "H3", "H3", "H4", "H4", "H4", "H4", "H5", "H5",
    "H5", "H5", "H6", "H6", "H6", "H6", "H7", "H7", "H7", "H7", "H8", "H9", "H9", "H9", "H9", "H10", "H10",
    "H10", "H10", "H11", "H11", "H11", "H11", "H12", "H12", "H12", "H12", "H13", "H13", "H13", "H13",
    "H14", "H14", "H14", "H14", "H15", "H15", "H15", "H15"
  ),
  period = c(
    "1", "2", "3", "4", "1", "2", "3", "1", "2", "3", "4", "1", "2", "3", "4", "1", "2", "3", "4", "1",
    "2", "3", "4", "1", "2", "3", "4", "1", "1", "2", "3", "4", "1", "2", "3", "4", "1", "2", "3", "4",
    "1", "2", "3", "4", "1", "2", "3", "4", "1", "2", "3", "4", "1", "2", "3", "4"
  ),
  y = c(
    2, 3, 4, 0, 3, 1, 1, 8, 2, 0, 2, 2, 0, 2, 0, 5, 0, 0, 1, 3, 0, 0, 1, 8, 1, 3, 0, 12, 2, 0, 0, 0, 1, 1,
    0, 2, 0, 5, 3, 1, 2, 1, 0, 0, 1, 2, 0, 0, 11, 0, 0, 0, 1, 1, 1, 0
  ),
  n = c(
    14, 12, 9, 5, 22, 18, 21, 22, 16, 16, 20, 10, 10, 9, 6, 18, 25, 24, 4, 17, 17, 18, 20, 16, 10, 9, 5,
    34, 9, 6, 8, 6, 22, 22, 18, 22, 25, 27, 22, 22, 10, 8, 6, 5, 21, 24, 19, 23, 19, 2, 3, 2, 19, 15, 15, 15
  )
)
f <- function(data) { d <- transform(data, period = factor(period)); y <- d$y; n <- d$n; quasi_all(cbind(y, n - y) ~ period, d, ~period) }
print(f(data), digits = 17)

# Mead, Curnow & Hasted (2002) p.350-351: 4 temperatures x 4 concentrations x 4 dishes of 50 seeds; deviances as printed
# in the documentation of the collection agridat 1.27 (MIT). Data in case.json.
