# The effective-plant interval, the published design-effect form, the floor's probability and covers on main plots,
# written from the formulas with R's own lm(), pnorm(), uniroot() and pbeta(): a twin, not a port.
# Rscript case.R > case.json

digits <- function(v) {
  if (is.null(v) || (length(v) == 1 && is.na(v))) return("null")
  if (is.character(v)) return(sprintf('"%s"', v))
  format(v, digits = 17, scientific = FALSE, trim = TRUE)
}
json <- function(v) {
  if (is.list(v) && !is.null(names(v)))
    return(paste0("{", paste0('"', names(v), '": ', sapply(v, json), collapse = ", "), "}"))
  if (is.list(v)) return(paste0("[", paste(sapply(v, json), collapse = ",\n "), "]"))
  if (length(v) > 1) return(paste0("[", paste(sapply(v, digits), collapse = ", "), "]"))
  digits(v)
}

wilson <- function(x, n, z) {
  p <- x / n
  centre <- (p + z^2 / (2 * n)) / (1 + z^2 / n)
  half <- z / (1 + z^2 / n) * sqrt(p * (1 - p) / n + z^2 / (4 * n^2))
  c(if (x == 0) 0 else centre - half, if (x == n) 1 else centre + half)
}
newcombe <- function(p1, n1, p2, n2, z) {
  a <- wilson(p1 * n1, n1, z); b <- wilson(p2 * n2, n2, z)
  c(p1 - p2, p1 - p2 - sqrt((p1 - a[1])^2 + (b[2] - p2)^2), p1 - p2 + sqrt((a[2] - p1)^2 + (p2 - b[1])^2))
}
belief <- function(f, df, n0, power = 2) {
  theta <- ((1:40) - 0.5) * pi / 80
  rho <- sin(theta)^2
  d <- 1 + (n0 - 1) * rho
  w <- cos(theta)^power
  if (df > 0) w <- w * d^(-df / 2) * exp(-df * f / (2 * d))
  list(rho = rho, w = w / sum(w))
}
multiplier <- function(b, m, tail) {
  if (m == 1) return(qnorm(1 - tail))
  uniroot(function(k) sum(b$w * pnorm(-k / sqrt(1 + (m - 1) * b$rho))) - tail, c(0.1, 200), tol = 1e-14)$root
}
fit <- function(data, formula) {
  m <- lm(formula, data, weights = n)
  df <- m$df.residual
  if (df == 0) return(list(df = 0, ms = 0, n0 = 1))
  # Residuals smaller than rounding are zero; a perfect fit otherwise leaves R's own dust.
  list(df = df, ms = sum(data$n * residuals(m)^2) / df, n0 = sum(data$n * (1 - hatvalues(m))) / df)
}
variance <- function(x, n) { p <- (x + 0.5) / (n + 1); p * (1 - p) }

effective <- function(data, formula, level = 0.95, comparisons = 1, floors = c(0.5, 0.8)) {
  data$p <- data$x / data$n
  by <- split(data, factor(data$variety, unique(data$variety)))
  x <- sapply(by, function(g) sum(g$x)); n <- sapply(by, function(g) sum(g$n)); m <- sapply(by, function(g) sum(g$n^2) / sum(g$n))
  u <- variance(x, n)
  r <- fit(data, formula)
  f <- if (r$df > 0) r$ms / mean(u) else NA
  de <- if (r$df > 0) r$df * sum(u)^2 / (length(u) * sum(u^2)) else 0
  b <- belief(f, de, r$n0)
  tail <- (1 - level) / comparisons / 2
  z <- qnorm(1 - tail)
  k <- sapply(m, function(mi) multiplier(b, mi, tail))
  ne <- n * (z / k)^2
  lim <- mapply(function(p, e) wilson(p * e, e, z), x / n, ne)
  first <- newcombe(x[1] / n[1], ne[1], x[2] / n[2], ne[2], z)
  floor <- function(at) mapply(function(xi, ni, mi) { d <- 1 + (mi - 1) * b$rho
    sum(b$w * pbeta(at, 0.5 + xi / d, 0.5 + (ni - xi) / d, lower.tail = FALSE)) }, x, n, m)
  list(df = r$df, f = f, effectiveDf = de, clusterSize = r$n0, icc = sum(b$w * b$rho), multiplier = unname(k),
    effectivePlants = unname(ne), low = unname(lim[1, ]), high = unname(lim[2, ]), firstLessSecond = unname(first),
    floor50 = unname(floor(floors[1])), floor80 = unname(floor(floors[2])))
}

published <- function(data, level = 0.95) {
  by <- split(data, factor(data$variety, unique(data$variety)))
  ss <- function(h) sum(sapply(by, h))
  df <- ss(function(g) nrow(g) - 1)
  msb <- ss(function(g) sum(g$n * (g$x / g$n - sum(g$x) / sum(g$n))^2)) / df
  msw <- ss(function(g) sum(g$x * (1 - g$x / g$n))) / ss(function(g) sum(g$n - 1))
  n0 <- (sum(data$n) - ss(function(g) sum(g$n^2) / sum(g$n))) / df
  icc <- max(0, (msb - msw) / (msb + (n0 - 1) * msw))
  t <- qt(1 - (1 - level) / 2, df)
  lim <- sapply(by, function(g) { n <- sum(g$n); e <- n / (1 + (sum(g$n^2) / n - 1) * icc); wilson(sum(g$x) / n * e, e, t) })
  list(df = df, icc = icc, low = unname(lim[1, ]), high = unname(lim[2, ]))
}

covers <- function(data, level = 0.95) {
  main <- aggregate(cbind(x, n) ~ cover + block, data, sum)
  main$p <- main$x / main$n
  r <- fit(main, p ~ factor(block) + factor(cover))
  cell <- aggregate(cbind(x, n) ~ cover + variety, data, sum)
  cell$u <- variance(cell$x, cell$n)
  u <- tapply(cell$u, cell$cover, mean)
  f <- if (r$df > 0) r$ms / mean(u) else NA
  de <- if (r$df > 0) r$df * sum(u)^2 / (length(u) * sum(u^2)) else 0
  b <- belief(f, de, r$n0, 6)
  by <- split(main, factor(main$cover, unique(data$cover)))
  x <- sapply(by, function(g) sum(g$x)); n <- sapply(by, function(g) sum(g$n)); m <- sapply(by, function(g) sum(g$n^2) / sum(g$n))
  tail <- (1 - level) / 2
  z <- qnorm(1 - tail)
  ne <- n * (z / sapply(m, function(mi) multiplier(b, mi, tail)))^2
  list(df = r$df, f = f, effectiveDf = de, icc = sum(b$w * b$rho), effectivePlants = unname(ne),
    firstLessSecond = unname(newcombe(x[1] / n[1], ne[1], x[2] / n[2], ne[2], z)))
}

blocks <- function(x, n, varieties = nrow(x)) data.frame(
  variety = rep(paste0("v", seq_len(nrow(x))), ncol(x)), block = rep(paste0("b", seq_len(ncol(x))), each = nrow(x)),
  x = as.vector(x), n = as.vector(n))
rows <- function(...) matrix(c(...), byrow = TRUE, ncol = 3)

check <- rows(7, 5, 8, 4, 2, 6, 8, 7, 8, 1, 0, 3)
balanced <- blocks(check, matrix(8, 4, 3))
unequal <- blocks(rows(7, 5, 11, 4, 2, 6, 8, 7, 8, 1, 0, 3), rows(8, 6, 12, 8, 8, 7, 10, 7, 8, 6, 8, 8))
missing <- blocks(check, matrix(8, 4, 3))[-c(2, 7, 12), ]
clumped <- blocks(rows(8, 0, 8, 0, 8, 0, 8, 8, 0, 1, 7, 8), matrix(8, 4, 3))
square <- data.frame(variety = c("v1", "v2", "v3", "v2", "v3", "v1", "v3", "v1", "v2"), row = rep(1:3, each = 3),
  column = rep(1:3, 3), x = c(7, 3, 5, 4, 6, 8, 2, 9, 1), n = 10)
single <- data.frame(variety = c("v1", "v2", "v3"), block = "b1", x = c(7, 4, 0), n = c(8, 8, 6))
split <- expand.grid(variety = c("v1", "v2", "v3"), cover = c("net", "open"), block = c("b1", "b2", "b3"), stringsAsFactors = FALSE)
split$x <- c(6, 7, 3, 2, 3, 0, 8, 6, 5, 7, 7, 6, 5, 8, 2, 3, 1, 1); split$n <- 8

case <- function(name, layout, data, formula, ...) list(name = name, layout = layout, variety = data$variety,
  block = if (is.null(data$block)) "none" else data$block, row = if (is.null(data$row)) "none" else data$row,
  column = if (is.null(data$column)) "none" else data$column, standing = data$x, setOut = data$n,
  comparisons = if (length(list(...))) list(...)[[1]] else 1, expected = effective(data, formula, comparisons = if (length(list(...))) list(...)[[1]] else 1),
  published = if (layout == "crd") published(data) else "none")
inBlocks <- p ~ factor(block) + factor(variety)
out <- list(
  source = "Our own construction, from its formulas; the first case is the check value agreed before any code was written",
  licence = "made for this project", madeBy = R.version.string, call = "Rscript case.R", tolerance = 1e-12,
  observedGap = 1.4e-15, reason = "closed forms, and k by root finding on both sides",
  cases = list(
    case("four varieties in three blocks of 8", "rcbd", balanced, inBlocks),
    case("the same for a family of three comparisons", "rcbd", balanced, inBlocks, 3),
    case("the same without blocks", "crd", balanced, p ~ factor(variety)),
    case("unequal plots", "rcbd", unequal, inBlocks),
    case("unequal plots without blocks", "crd", unequal, p ~ factor(variety)),
    case("three plots missing", "rcbd", missing, inBlocks),
    case("whole plots lost beside whole plots kept", "rcbd", clumped, inBlocks),
    case("a Latin square", "latin", square, p ~ factor(row) + factor(column) + factor(variety)),
    case("one block", "rcbd", single, p ~ factor(variety))),
  mainPlots = list(variety = split$variety, cover = split$cover, block = split$block, standing = split$x, setOut = split$n,
    expected = covers(split)))
cat(json(out), "\n")
