# Rscript case.R: writes expected figures beside the grids of arguments in case.json.
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
grid <- reference$upper$arguments
reference$upper$expected <- I(mapply(function(q, k, df) 1 - tukey_below(q, k, df), grid$q, grid$means, grid$df))
grid <- reference$quantile$arguments
reference$quantile$expected <- I(mapply(tukey_quantile, grid$p, grid$means, grid$df))
save("stats")
