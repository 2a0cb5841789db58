# One variety factor in blocks by R: lm, emmeans, friedman.test; the rest from the formulas in the docstrings.
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
for (i in seq_along(reference$cases)) {
  data <- frame(reference$cases[[i]]$data)
  model <- lm(y ~ block + variety, data)
  grid <- emmeans::emmeans(model, ~variety)
  means <- as.data.frame(grid)
  pairs <- as.data.frame(summary(pairs(grid, reverse = TRUE, adjust = "none"), infer = TRUE))
  mse <- summary(model)$sigma^2
  df <- model$df.residual
  b <- nlevels(data$block); t <- nlevels(data$variety)
  q <- tukey_quantile(0.95, t, df) / sqrt(2)
  expected <- list(cv = 100 * sqrt(mse) / mean(data$y), leverages = I(unname(hatvalues(model))),
    means = listed(data.frame(level = means$variety, estimate = means$emmean, se = means$SE, low = means$lower.CL, high = means$upper.CL)),
    pairs = listed(data.frame(contrast = pairs$contrast, estimate = pairs$estimate, se = pairs$SE, low = pairs$lower.CL,
      high = pairs$upper.CL, p = pairs$p.value, holm = p.adjust(pairs$p.value, "holm"),
      tukeyLow = pairs$estimate - q * pairs$SE, tukeyHigh = pairs$estimate + q * pairs$SE,
      tukeyP = sapply(abs(pairs$t.ratio) * sqrt(2), function(z) 1 - tukey_below(z, t, df)))))
  # Tukey's one df: the squared fitted values, last.
  square <- fitted(model)^2
  odd <- anova(lm(y ~ block + variety + square, data))["square", ]
  expected$tukeyOneDf <- list(f = odd[["F value"]], df2 = df - 1, p = odd[["Pr(>F)"]])
  if (nrow(data) == b * t) {
    msb <- anova(model)["block", "Mean Sq"]
    efficiency <- ((b - 1) * msb + b * (t - 1) * mse) / ((b * t - 1) * mse)
    f1 <- df; f2 <- t * (b - 1)
    expected$efficiency <- list(efficiency = efficiency, adjusted = efficiency * (f1 + 1) * (f2 + 3) / ((f1 + 3) * (f2 + 1)))
    expected$lsd <- qt(0.975, df) * sqrt(2 * mse / b)
    ranked <- friedman.test(y ~ variety | block, data)
    expected$friedman <- list(statistic = unname(ranked$statistic), p = ranked$p.value)
  }
  reference$cases[[i]]$expected <- expected
}
save(c("stats", "emmeans"))
