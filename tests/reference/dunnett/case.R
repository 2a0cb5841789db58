# Dunnett by R: double integration where correlations have product form. Where not, up to five contrasts by mvtnorm's Miwa,
# which draws nothing, integrated over the scale; more by its Genz-Bretz, which draws, to about 5e-6.
suppressMessages(library(jsonlite))
reference <- fromJSON("case.json", simplifyVector = TRUE, simplifyDataFrame = FALSE)
listed <- function(table) lapply(as.list(as.data.frame(table)), function(column) I(if (is.factor(column)) as.character(column) else column))
save <- function(packages) {
  reference$madeBy <<- R.version.string
  reference$packages <<- lapply(setNames(nm = packages), function(one) as.character(packageVersion(one)))
  writeLines(toJSON(reference, digits = NA, auto_unbox = TRUE, null = "null", na = "null"), "case.json")
}
frame <- function(data) {
  data <- as.data.frame(data, stringsAsFactors = FALSE)
  for (column in names(data)) if (is.character(data[[column]])) data[[column]] <- factor(data[[column]], levels = unique(data[[column]]))
  data
}
# The studentized range by double integration (R 4.2's own ptukey is off by 4e-7 at small df).
range_below <- function(w, k) {
  f <- function(z) k * dnorm(z) * (pnorm(z) - pnorm(z - w))^(k - 1)
  part <- function(a, b) integrate(f, a, b, rel.tol = 1e-12, abs.tol = 1e-16, subdivisions = 2000, stop.on.error = FALSE)$value
  if (w <= 0) 0 else part(-8.5, 0) + part(0, w / 2 + 1) + part(w / 2 + 1, w + 9.5)
}
over_s <- function(inner, df) {
  if (!is.finite(df)) return(inner(1))
  top <- log(2) + df / 2 * log(df / 2) - lgamma(df / 2)
  g <- function(s) exp(top + (df - 1) * log(s) - df * s^2 / 2) * sapply(s, inner)
  at <- sqrt(c(qchisq(c(1e-16, 0.01, 0.3, 0.7, 0.99), df), qchisq(1e-16, df, lower.tail = FALSE)) / df)
  sum(sapply(1:5, function(i) integrate(g, at[i], at[i + 1], rel.tol = 1e-11, abs.tol = 1e-14, subdivisions = 1000,
                                        stop.on.error = FALSE)$value))
}
tukey_below <- function(q, k, df) over_s(function(s) range_below(q * s, k), df)
tukey_quantile <- function(p, k, df) {
  near <- qtukey(p, k, df)
  uniroot(function(q) tukey_below(q, k, df) - p, near * c(0.95, 1.05), extendInt = "upX", tol = 1e-11)$root
}
# Dunnett's distribution under correlations λ_i λ_j by double integration.
dunnett_below <- function(q, loadings, df) over_s(function(s) {
  f <- function(z) {
    inside <- rep(1, length(z))
    for (l in loadings) inside <- inside * (pnorm((q * s - l * z) / sqrt(1 - l^2)) - pnorm((-q * s - l * z) / sqrt(1 - l^2)))
    dnorm(z) * inside
  }
  integrate(f, -9, 9, rel.tol = 1e-12, abs.tol = 0, subdivisions = 2000, stop.on.error = FALSE)$value
}, df)
dunnett_quantile <- function(p, loadings, df) uniroot(function(q) dunnett_below(q, loadings, df) - p, c(1, 30), tol = 1e-11)$root
set.seed(1)
for (i in seq_along(reference$cases)) {
  case <- reference$cases[[i]]
  data <- frame(case$data)
  data$variety <- relevel(data$variety, case$check)
  model <- lm(as.formula(case$formula), data)
  own <- grep("^variety", names(coef(model)))
  estimate <- coef(model)[own]; spread <- vcov(model)[own, own, drop = FALSE]; se <- sqrt(diag(spread))
  r <- cov2cor(spread); df <- model$df.residual
  if (case$product) {
    n <- table(data$variety)
    loadings <- if ("block" %in% names(data)) rep(sqrt(0.5), length(own)) else as.numeric(sqrt(n[-1] / (n[-1] + n[1])))
    p <- sapply(abs(estimate / se), function(t) 1 - dunnett_below(t, loadings, df))
    critical <- dunnett_quantile(0.95, loadings, df)
  } else if (length(own) <= 5) {
    miwa <- mvtnorm::Miwa(steps = 128)
    beyond <- function(t) 1 - over_s(function(s)
      as.numeric(mvtnorm::pmvnorm(rep(-t * s, length(own)), rep(t * s, length(own)), corr = r, algorithm = miwa)), df)
    p <- sapply(abs(estimate / se), beyond)
    critical <- uniroot(function(t) beyond(t) - 0.05, c(2, 4), tol = 1e-10)$root
  } else {
    genz <- mvtnorm::GenzBretz(abseps = 2e-7, maxpts = 2e6)
    beyond <- function(t) 1 - as.numeric(mvtnorm::pmvt(rep(-t, length(own)), rep(t, length(own)), df = df, corr = r, algorithm = genz))
    p <- sapply(abs(estimate / se), beyond)
    critical <- uniroot(function(t) { set.seed(1); beyond(t) - 0.05 }, c(1.5, 6), tol = 1e-7)$root
  }
  reference$cases[[i]]$expected <- list(varieties = I(levels(data$variety)[-1]), estimate = I(unname(estimate)), se = I(unname(se)),
                                        df = df, p = I(unname(p)), critical = critical)
}
save(c("stats", "mvtnorm"))
