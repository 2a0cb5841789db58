# datasets::InsectSprays count ~ spray
# Source: Beall G (1942) Biometrika 29:243-262 (provenance: R package data)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, numDeriv 2016.8.1.1, stats 4.2.2, survival 3.5.3
cnt <- function(form, data, off = NULL) { d <- data; ctl <- glm.control(epsilon = 1e-14, maxit = 200); env <- environment(); environment(form) <- env; m <- glm(form, poisson, d, control = ctl); q <- glm(form, quasipoisson, d, control = ctl); phi <- sum(residuals(m, "pearson")^2)/m$df.residual; b <- coef(m); s <- sqrt(diag(vcov(m))); tq <- qt(.975, m$df.residual)
  nb <- tryCatch(MASS::glm.nb(form, d, control = glm.control(epsilon = 1e-12, maxit = 500)), error = function(e) NULL); X <- model.matrix(form, d); y <- model.response(model.frame(form, d)); o <- model.offset(model.frame(form, d)); if (is.null(o)) o <- 0
  joint <- tryCatch({ k <- ncol(X); f <- function(t) -sum(dnbinom(y, size = exp(t[k + 1]), mu = exp(drop(X %*% t[1:k]) + o), log = TRUE)); t0 <- c(coef(nb), log(nb$theta)); for (i in 1:8) { G <- numDeriv::grad(f, t0); H <- numDeriv::hessian(f, t0); st <- solve(H, G); t0 <- t0 - st; if (max(abs(st)) < 1e-10) break }; H <- numDeriv::hessian(f, t0); se <- sqrt(diag(solve(H))); list(coef = setNames(t0[1:k], colnames(X)), se = setNames(se[1:k], colnames(X)), theta = unname(exp(t0[k + 1])), se_theta = unname(exp(t0[k + 1])*se[k + 1]), logLik = -f(t0)) }, error = function(e) list(error = conditionMessage(e)))
  list(poisson = list(coef = coef_tab(m), deviance = deviance(m), null_deviance = m$null.deviance, df = m$df.residual, pearson_X2 = phi*m$df.residual, logLik = as.numeric(logLik(m)), aic = AIC(m), anova_LR = an_tab(anova(m, test = "Chisq"))), dispersion = phi, quasi = list(coef = coef_tab(q), anova_F = an_tab(anova(q, test = "F"))), rate_ratios = data.frame(term = names(b), rr = exp(b), pois_lower = exp(b - qnorm(.975)*s), pois_upper = exp(b + qnorm(.975)*s), quasi_lower = exp(b - tq*s*sqrt(phi)), quasi_upper = exp(b + tq*s*sqrt(phi)), row.names = NULL),
    negbin = if (is.null(nb)) NULL else list(coef = coef_tab(nb), theta = nb$theta, se_theta = nb$SE.theta, two_logLik = nb$twologlik, deviance = deviance(nb), aic = AIC(nb)), nb_joint_ml = joint) }
an_tab <- function(a) { d <- as.data.frame(a); cbind(data.frame(term = trimws(rownames(d)), stringsAsFactors = FALSE), setNames(d, gsub("[^A-Za-z0-9]+", "_", names(d)))) -> r; rownames(r) <- NULL; r }
coef_tab <- function(m) { s <- summary(m)$coefficients; d <- as.data.frame(s); d <- cbind(data.frame(term = rownames(s), stringsAsFactors = FALSE), d); rownames(d) <- NULL; names(d) <- c("term", "estimate", "se", "stat", "p")[seq_along(d)]; d }
data <- data.frame(
  y = c(
    10, 7, 20, 14, 14, 12, 10, 23, 17, 20, 14, 13, 11, 17, 21, 11, 16, 14, 17, 17, 19, 21, 7, 13, 0, 1, 7,
    2, 3, 1, 2, 1, 3, 0, 1, 4, 3, 5, 12, 6, 4, 3, 5, 5, 5, 5, 2, 4, 3, 5, 3, 5, 3, 6, 1, 1, 3, 2, 6, 4, 11,
    9, 15, 22, 15, 16, 13, 10, 26, 26, 24, 13
  ),
  spray = c(
    "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "B", "B", "B", "B", "B", "B", "B", "B",
    "B", "B", "B", "B", "C", "C", "C", "C", "C", "C", "C", "C", "C", "C", "C", "C", "D", "D", "D", "D",
    "D", "D", "D", "D", "D", "D", "D", "D", "E", "E", "E", "E", "E", "E", "E", "E", "E", "E", "E", "E",
    "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F"
  )
)
f <- function(data) cnt(y ~ spray, transform(data, spray = factor(spray)))
print(f(data), digits = 17)

# MASS::quine Days ~ Eth + Sex + Age + Lrn
# Source: Quine S (1975), Aitkin M (1978) JRSS A 141:195-223 (provenance: R package data)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, numDeriv 2016.8.1.1, stats 4.2.2, survival 3.5.3
data <- data.frame(
  Eth = c(
    "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A",
    "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A",
    "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A",
    "A", "A", "A", "A", "A", "A", "A", "A", "A", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N",
    "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N",
    "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N",
    "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N", "N",
    "N", "N", "N", "N", "N", "N"
  ),
  Sex = c(
    "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M",
    "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "F", "F", "F", "F", "F", "F", "F", "F", "F",
    "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F",
    "F", "F", "F", "F", "F", "F", "F", "F", "F", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M",
    "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M", "M",
    "M", "M", "M", "M", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F",
    "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F", "F",
    "F", "F", "F", "F", "F", "F"
  ),
  Age = c(
    "F0", "F0", "F0", "F0", "F0", "F0", "F0", "F0", "F1", "F1", "F1", "F1", "F1", "F2", "F2", "F2", "F2",
    "F2", "F2", "F2", "F2", "F2", "F2", "F2", "F3", "F3", "F3", "F3", "F3", "F3", "F3", "F0", "F0", "F0",
    "F0", "F0", "F1", "F1", "F1", "F1", "F1", "F1", "F1", "F1", "F1", "F1", "F1", "F1", "F1", "F1", "F1",
    "F2", "F2", "F2", "F2", "F2", "F2", "F2", "F2", "F2", "F3", "F3", "F3", "F3", "F3", "F3", "F3", "F3",
    "F3", "F0", "F0", "F0", "F0", "F0", "F0", "F0", "F0", "F0", "F1", "F1", "F1", "F1", "F1", "F1", "F1",
    "F1", "F1", "F2", "F2", "F2", "F2", "F2", "F2", "F2", "F2", "F2", "F2", "F3", "F3", "F3", "F3", "F3",
    "F3", "F3", "F0", "F0", "F0", "F0", "F0", "F1", "F1", "F1", "F1", "F1", "F1", "F1", "F1", "F1", "F1",
    "F1", "F1", "F1", "F1", "F1", "F1", "F1", "F2", "F2", "F2", "F2", "F2", "F2", "F2", "F2", "F2", "F2",
    "F3", "F3", "F3", "F3", "F3", "F3", "F3", "F3", "F3", "F3"
  ),
  Lrn = c(
    "SL", "SL", "SL", "AL", "AL", "AL", "AL", "AL", "SL", "SL", "SL", "AL", "AL", "SL", "SL", "SL", "SL",
    "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "SL", "AL", "AL",
    "AL", "AL", "SL", "SL", "SL", "SL", "SL", "SL", "SL", "SL", "SL", "SL", "AL", "AL", "AL", "AL", "AL",
    "SL", "SL", "SL", "SL", "SL", "SL", "SL", "SL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL",
    "AL", "SL", "SL", "SL", "AL", "AL", "AL", "AL", "AL", "AL", "SL", "SL", "SL", "SL", "SL", "SL", "SL",
    "AL", "AL", "SL", "SL", "SL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL",
    "AL", "AL", "SL", "AL", "AL", "AL", "AL", "SL", "SL", "SL", "SL", "SL", "SL", "SL", "SL", "SL", "SL",
    "SL", "AL", "AL", "AL", "AL", "AL", "AL", "SL", "SL", "SL", "SL", "SL", "SL", "SL", "SL", "SL", "AL",
    "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL", "AL"
  ),
  y = c(
    2, 11, 14, 5, 5, 13, 20, 22, 6, 6, 15, 7, 14, 6, 32, 53, 57, 14, 16, 16, 17, 40, 43, 46, 8, 23, 23, 28,
    34, 36, 38, 3, 5, 11, 24, 45, 5, 6, 6, 9, 13, 23, 25, 32, 53, 54, 5, 5, 11, 17, 19, 8, 13, 14, 20, 47,
    48, 60, 81, 2, 0, 2, 3, 5, 10, 14, 21, 36, 40, 6, 17, 67, 0, 0, 2, 7, 11, 12, 0, 0, 5, 5, 5, 11, 17, 3,
    4, 22, 30, 36, 8, 0, 1, 5, 7, 16, 27, 0, 30, 10, 14, 27, 41, 69, 25, 10, 11, 20, 33, 5, 7, 0, 1, 5, 5,
    5, 5, 7, 11, 15, 5, 14, 6, 6, 7, 28, 0, 5, 14, 2, 2, 3, 8, 10, 12, 1, 1, 9, 22, 3, 3, 5, 15, 18, 22, 37
  )
)
f <- function(data) cnt(y ~ Eth + Sex + Age + Lrn, transform(data, Eth = factor(Eth), Sex = factor(Sex), Age = factor(Age), Lrn = factor(Lrn)))
print(f(data), digits = 17)

# datasets::warpbreaks breaks ~ wool * tension
# Source: Tippett LHC (1950); Tukey JW (1977) Exploratory Data Analysis (provenance: R package data)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, numDeriv 2016.8.1.1, stats 4.2.2, survival 3.5.3
data <- data.frame(
  y = c(
    26, 30, 54, 25, 70, 52, 51, 26, 67, 18, 21, 29, 17, 12, 18, 35, 30, 36, 36, 21, 24, 18, 10, 43, 28, 15,
    26, 27, 14, 29, 19, 29, 31, 41, 20, 44, 42, 26, 19, 16, 39, 28, 21, 39, 29, 20, 21, 24, 17, 13, 15, 15,
    16, 28
  ),
  wool = c(
    "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A",
    "A", "A", "A", "A", "A", "A", "A", "B", "B", "B", "B", "B", "B", "B", "B", "B", "B", "B", "B", "B",
    "B", "B", "B", "B", "B", "B", "B", "B", "B", "B", "B", "B", "B", "B"
  ),
  tension = c(
    "L", "L", "L", "L", "L", "L", "L", "L", "L", "M", "M", "M", "M", "M", "M", "M", "M", "M", "H", "H",
    "H", "H", "H", "H", "H", "H", "H", "L", "L", "L", "L", "L", "L", "L", "L", "L", "M", "M", "M", "M",
    "M", "M", "M", "M", "M", "H", "H", "H", "H", "H", "H", "H", "H", "H"
  )
)
f <- function(data) { d <- transform(data, wool = factor(wool), tension = factor(tension, levels = c("L", "M", "H"))); list(additive = cnt(y ~ wool + tension, d), interaction = cnt(y ~ wool*tension, d)) }
print(f(data), digits = 17)
