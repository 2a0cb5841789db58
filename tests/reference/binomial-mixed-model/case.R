# lme4::cbpp
# Source: Lesnoff M et al. (2004) Preventive Veterinary Medicine 64:27-40 (provenance: R package data)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages lme4 1.1.31, MASS 7.3.58.2, Matrix 1.5.3, numDeriv 2016.8.1.1, stats 4.2.2, survival 3.5.3
glmm_all <- function(X, y, n, g, form, data) { a1 <- glmm_one(form, data, 1); a25 <- glmm_one(form, data, 25); s0 <- max(a1$sigma[1], .05)
  list(glmer_laplace = a1, glmer_agq25 = a25, own_laplace_polished = glmm_polish(c(a1$coef$estimate, log(s0)), X, y, n, g, 1), own_agq25_polished = glmm_polish(c(a25$coef$estimate, log(s0)), X, y, n, g, 25), own_agq100_polished = glmm_polish(c(a25$coef$estimate, log(s0)), X, y, n, g, 100)) }
glmm_one <- function(form, data, nAGQ) { m <- lme4::glmer(form, data = data, family = binomial, nAGQ = nAGQ, control = lme4::glmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-10, maxfun = 1e5), tolPwrss = 1e-12, check.conv.singular = "ignore")); list(nAGQ = nAGQ, coef = coef_tab(m), sigma = unname(sqrt(unlist(lme4::VarCorr(m)))), logLik = as.numeric(logLik(m)), deviance_minus2logLik = -2*as.numeric(logLik(m)), ranef_mode = lme4::ranef(m)[[1]][, 1], singular = lme4::isSingular(m)) }
coef_tab <- function(m) { s <- summary(m)$coefficients; d <- as.data.frame(s); d <- cbind(data.frame(term = rownames(s), stringsAsFactors = FALSE), d); rownames(d) <- NULL; names(d) <- c("term", "estimate", "se", "stat", "p")[seq_along(d)]; d }
glmm_polish <- function(th0, X, y, n, g, Q) { gh <- gh_nodes(Q); f <- function(t) -glmm_ll(t, X, y, n, g, Q, gh); o <- optim(th0, f, method = "BFGS", control = list(reltol = 1e-14)); th <- o$par
  if (th[length(th)] < -6) return(list(boundary_sigma_zero = TRUE, logLik = -o$value)); for (i in 1:6) { G <- numDeriv::grad(f, th); H <- numDeriv::hessian(f, th); st <- solve(H, G); th <- th - st; if (max(abs(st)) < 1e-10) break }
  H <- numDeriv::hessian(f, th); k <- ncol(X); se <- sqrt(diag(solve(H))); list(Q = Q, beta = setNames(th[1:k], colnames(X)), se_beta_joint_hessian = setNames(se[1:k], colnames(X)), sigma = unname(exp(th[k + 1])), se_log_sigma = unname(se[k + 1]), logLik = -f(th), max_abs_grad = max(abs(numDeriv::grad(f, th)))) }
gh_nodes <- function(n) { i <- seq_len(n - 1); J <- matrix(0, n, n); J[cbind(i, i + 1)] <- J[cbind(i + 1, i)] <- sqrt(i/2); e <- eigen(J, symmetric = TRUE); list(x = e$values, w = sqrt(pi)*e$vectors[1, ]^2) }
glmm_ll <- function(th, X, y, n, g, Q = 60, gh = gh_nodes(Q)) { k <- ncol(X); s <- exp(th[k + 1]); eta <- drop(X %*% th[1:k]); tot <- 0
  for (lv in unique(g)) { ii <- which(g == lv); e <- eta[ii]; yy <- y[ii]; nn <- n[ii]; lc <- sum(lchoose(nn, yy)); f <- function(u) sapply(u, function(z) sum(yy*(e + s*z) - nn*log1p(exp(e + s*z))) - z^2/2)
    u <- 0; for (it in 1:100) { mu <- plogis(e + s*u); d1 <- s*sum(yy - nn*mu) - u; d2 <- -s^2*sum(nn*mu*(1 - mu)) - 1; st <- d1/d2; u <- u - st; if (abs(st) < 1e-13) break }
    sg <- 1/sqrt(-d2); z <- u + sqrt(2)*sg*gh$x; l <- f(z) + gh$x^2; m <- max(l); tot <- tot + lc + log(sqrt(2)*sg/sqrt(2*pi)) + m + log(sum(gh$w*exp(l - m))) }
  tot }
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
f <- function(data) { d <- transform(data, period = factor(period), herd = factor(herd, levels = paste0("H", 1:15))); glmm_all(model.matrix(~period, d), d$y, d$n, d$herd, cbind(y, n - y) ~ period + (1 | herd), d) }
print(f(data), digits = 17)
