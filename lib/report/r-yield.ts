/**
 * The yield part of the R script, in base R: linear models with marginal means, Tukey and Kramer's and Dunnett's limits
 * by numerical integration, the ratio to the check. Incomplete blocks and split plots with gaps need lme4 and pbkrtest,
 * correlations without product form mvtnorm; where they are not installed the script says what it leaves out.
 */
export const rYield = `
# ---- Yield -----------------------------------------------------------------------------------------------------------
has <- function(package) requireNamespace(package, quietly = TRUE)

# A model to take contrasts of: which columns of the design were kept, estimates, covariances, df of a contrast.
model_of <- function(fixed, data, keep, b, V, df_of, nothing_left) list(fixed = fixed, data = data, keep = keep, b = b, V = V,
  df_of = df_of, nothing_left = nothing_left, X = model.matrix(fixed, data))

least_squares <- function(terms, data) {
  fixed <- reformulate(if (length(terms)) terms else "1")
  X <- model.matrix(fixed, data)
  q <- qr(X)
  keep <- q$pivot[seq_len(q$rank)]
  U <- solve(crossprod(X[, keep, drop = FALSE]))
  b <- as.vector(U %*% crossprod(X[, keep, drop = FALSE], data$y))
  left <- data$y - as.vector(X[, keep, drop = FALSE] %*% b)
  df <- nrow(X) - q$rank
  ms <- if (df > 0) sum(left^2) / df else NA
  small <- df > 0 && sum(left^2) <= 1e-20 * sum((data$y - mean(data$y))^2)
  made <- model_of(fixed, data, keep, b, U * ms, function(row) df, df == 0 || small)
  c(made, list(U = U, left = left, df = df, ms = ms))
}

# The design row of one level, every other factor's levels weighed alike.
row_of <- function(model, ...) {
  at <- list(...)
  used <- all.vars(model$fixed)
  grid <- expand.grid(lapply(setNames(nm = used), function(one)
    if (is.null(at[[one]])) levels(model$data[[one]]) else factor(at[[one]], levels(model$data[[one]]))))
  for (one in used) grid[[one]] <- factor(grid[[one]], levels(model$data[[one]]))
  colMeans(model.matrix(model$fixed, grid, contrasts.arg = attr(model$X, "contrasts")))
}

contrast <- function(model, row) {
  out <- list(estimate = NA_real_, se = NA_real_, df = NA_real_)
  if (max(abs(qr.resid(qr(t(model$X)), row))) > 1e-8 * max(abs(row), 1e-300)) return(out)
  w <- row[model$keep]
  out$estimate <- sum(w * model$b)
  variance <- if (model$nothing_left) NA else as.numeric(w %*% model$V %*% w)
  if (is.na(variance) || variance <= 0) return(out)
  out$se <- sqrt(variance)
  out$df <- model$df_of(w)
  out
}

# The studentized range: qtukey() stops at four digits, so it is solved afresh.
tukey_quantile <- function(p, k, df) uniroot(function(q) ptukey(q, k, df, lower.tail = FALSE) - p,
  qtukey(p, k, df, lower.tail = FALSE) * c(0.9, 1.1), extendInt = "downX", tol = 1e-12)$root

# Dunnett: correlations r_ij = l_i l_j are integrated twice; others need mvtnorm.
loadings_of <- function(r) {
  count <- nrow(r)
  if (count == 1) return(0)
  if (count == 2) return(c(1, sign(r[1, 2])) * sqrt(abs(r[1, 2])))
  l <- vapply(seq_len(count), function(i) {
    others <- setdiff(seq_len(count), i)
    pair <- others[which(abs(r[others, others]) * (row(diag(count - 1)) < col(diag(count - 1))) ==
      max(abs(r[others, others][upper.tri(diag(count - 1))])), arr.ind = TRUE)[1, ]]
    sqrt(min(0.999999, max(0, r[i, pair[1]] * r[i, pair[2]] / r[pair[1], pair[2]])))
  }, 0)
  lead <- which.max(l)
  l * ifelse(seq_len(count) != lead & r[, lead] < 0, -1, 1)
}
over_scale <- function(inner, df) {
  top <- log(2) + df / 2 * log(df / 2) - lgamma(df / 2)
  g <- function(s) exp(top + (df - 1) * log(s) - df * s^2 / 2) * vapply(s, inner, 0)
  at <- sqrt(c(qchisq(c(1e-16, 0.01, 0.3, 0.7, 0.99), df), qchisq(1e-16, df, lower.tail = FALSE)) / df)
  sum(vapply(1:5, function(i) integrate(g, at[i], at[i + 1], rel.tol = 1e-10, abs.tol = 1e-13, subdivisions = 500,
    stop.on.error = FALSE)$value, 0))
}
beyond_product <- function(q, l, df) over_scale(function(s) integrate(function(z) {
  inside <- 0
  for (one in l) inside <- inside + log1p(-pmin(1, pnorm((-q * s - one * z) / sqrt(1 - one^2)) + pnorm((-q * s + one * z) / sqrt(1 - one^2))))
  dnorm(z) * -expm1(inside)
}, -9, 9, rel.tol = 1e-11, abs.tol = 1e-15, subdivisions = 1000, stop.on.error = FALSE)$value, df)
dunnett <- function(r) {
  l <- loadings_of(r)
  off <- r - outer(l, l)
  diag(off) <- 0
  if (max(abs(off)) < 1e-10) return(function(q, df) beyond_product(q, l, df))
  if (!has("mvtnorm")) return(NULL)
  # The chance that any of several normals lies outside, on a grid, a smooth curve through it, and then over the scale.
  # Up to five are integrated to ten digits; more are drawn, good to about five.
  few <- nrow(r) <= 5
  at <- seq(0, 9, length.out = if (few) 181 else 61)
  set.seed(1)
  outside <- vapply(at, function(u) 1 - as.numeric(mvtnorm::pmvnorm(rep(-u, nrow(r)), rep(u, nrow(r)), corr = r,
    algorithm = if (few) mvtnorm::Miwa(steps = 128) else mvtnorm::GenzBretz(abseps = 2e-6, maxpts = 2e5))), 0)
  curve <- splinefun(at, outside)
  function(q, df) over_scale(function(s) if (q * s >= 9) 0 else curve(q * s), df)
}

tell_parts <- function(values, ...) for (part in names(values)) tell(values[[part]], ..., part)
limits_at <- function(told, half) c(told, list(low = told$estimate - half, high = told$estimate + half))
mean_limits <- function(told) {
  out <- limits_at(told, qt(1 - (1 - LEVEL) / 2, told$df) * told$se)
  names(out)[1] <- "mean"
  out
}

tell_means <- function(model, ...) for (name in levels(model$data$variety))
  tell_parts(mean_limits(contrast(model, row_of(model, variety = name))), ..., name)

tell_pairs <- function(model, factor, ...) {
  all <- levels(model$data[[factor]])
  if (length(all) < 2) return(invisible())
  for (j in seq_along(all)) for (i in seq_len(j - 1)) {
    of <- function(name) do.call(row_of, c(list(model), setNames(list(name), factor)))
    told <- contrast(model, of(all[j]) - of(all[i]))
    if (!is.na(told$se)) {
      t <- abs(told$estimate / told$se)
      two <- length(all) == 2
      critical <- if (two) qt(1 - (1 - LEVEL) / 2, told$df) else tukey_quantile(1 - LEVEL, length(all), told$df) / sqrt(2)
      told <- limits_at(told, critical * told$se)
      told$p <- if (two) 2 * pt(-t, told$df) else ptukey(t * sqrt(2), length(all), told$df, lower.tail = FALSE)
    }
    tell_parts(told, ..., paste(all[j], "less", all[i]))
  }
}

tell_to_check <- function(model, ...) {
  others <- setdiff(levels(model$data$variety), yield_check)
  rows <- lapply(others, function(name) row_of(model, variety = name) - row_of(model, variety = yield_check))
  told <- lapply(rows, function(row) contrast(model, row))
  known <- which(!vapply(told, function(one) is.na(one$se), TRUE))
  if (length(known) > 0) {
    W <- vapply(rows[known], function(row) row[model$keep], numeric(length(model$keep)))
    W <- matrix(W, ncol = length(known))
    beyond <- dunnett(cov2cor(t(W) %*% model$V %*% W))
    if (is.null(beyond)) cannot("limits and p against the check at once", "mvtnorm is not installed")
    else for (i in known) {
      df <- told[[i]]$df
      near <- if (length(known) == 1) qt(1 - (1 - LEVEL) / 2, df) else qt(1 - (1 - LEVEL) / 2 / length(known), df)
      critical <- uniroot(function(q) beyond(q, df) - (1 - LEVEL), near * c(0.7, 1.05), extendInt = "downX", tol = 1e-9)$root
      told[[i]] <- limits_at(told[[i]], critical * told[[i]]$se)
      told[[i]]$p <- beyond(abs(told[[i]]$estimate / told[[i]]$se), df)
    }
  }
  for (i in seq_along(others)) {
    told[[i]]$df <- NULL
    tell_parts(told[[i]], ..., paste(others[i], "less", yield_check))
  }
}

tell_anova <- function(terms, data) {
  before <- least_squares(character(), data)
  whole <- least_squares(terms, data)
  if (whole$nothing_left) return(invisible())
  for (place in seq_along(terms)) {
    after <- least_squares(terms[seq_len(place)], data)
    df <- before$df - after$df
    f <- (sum(before$left^2) - sum(after$left^2)) / df / whole$ms
    tell(f, "yield", "analysis of variance", terms[place], "F")
    tell(pf(f, df, whole$df, lower.tail = FALSE), "yield", "analysis of variance", terms[place], "p")
    before <- after
  }
  tell(whole$df, "yield", "residual df")
  tell(100 * sqrt(whole$ms) / mean(data$y), "yield", "coefficient of variation")
}

# A split plot with every plot in place: each effect against the error of its own stratum.
by_strata <- function(data, main, within) {
  fit <- least_squares(c(main, within, paste(main, within, sep = ":")), data)
  project <- function(unit) { Z <- model.matrix(~ 0 + unit); Z %*% solve(crossprod(Z)) %*% t(Z) }
  of_blocks <- project(factor(data$wholeBlock))
  of_mains <- project(interaction(data$wholeBlock, data[[main]], drop = TRUE))
  layers <- list(of_blocks, of_mains - of_blocks, diag(nrow(data)) - of_mains)
  B <- nlevels(factor(data$wholeBlock)); M <- nlevels(data[[main]]); S <- nlevels(data[[within]])
  df <- c(B - 1, (B - 1) * (M - 1), (B - 1) * M * (S - 1))
  ms <- vapply(1:3, function(i) as.numeric(fit$left %*% layers[[i]] %*% fit$left) / df[i], 0)
  X <- fit$X[, fit$keep, drop = FALSE]
  shares <- lapply(layers, function(layer) fit$U %*% (t(X) %*% layer %*% X) %*% fit$U)
  fit$V <- Reduce(function(sum, i) sum + shares[[i]] * ms[i], 1:3, 0)
  fit$nothing_left <- FALSE
  fit$df_of <- function(w) {
    part <- vapply(1:3, function(i) as.numeric(w %*% shares[[i]] %*% w), 0)
    part[part < 1e-10 * as.numeric(w %*% fit$U %*% w)] <- 0
    sum(part * ms)^2 / sum((part * ms)^2 / df)
  }
  fit
}

# Blocks (and main plots) random, by REML with Kenward and Roger's covariances and df.
mixed <- function(terms, random, data) {
  if (!has("lme4") || !has("pbkrtest")) {
    cannot("means and differences of yield", "lme4 and pbkrtest are not installed")
    return(NULL)
  }
  right <- c(if (length(terms)) terms else "1", sprintf("(1 | %s)", random))
  fit <- suppressMessages(lme4::lmer(reformulate(right, "y"), data,
    control = lme4::lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-10, maxfun = 1e5), check.conv.singular = "ignore")))
  plain <- vcov(fit)
  adjusted <- pbkrtest::vcovAdj(fit)
  fixed <- reformulate(if (length(terms)) terms else "1")
  X <- model.matrix(fixed, data)
  model_of(fixed, data, which(colnames(X) %in% names(lme4::fixef(fit))), unname(lme4::fixef(fit)), as.matrix(adjusted),
    function(w) pbkrtest::Lb_ddf(w, plain, adjusted), FALSE)
}

# A split plot's model: by strata where every plot is in place, otherwise by REML.
split_model <- function(data) {
  main <- if (variety_on_main_plots) "variety" else "treatment"
  within <- setdiff(c("variety", "treatment"), main)
  times <- table(data$wholeBlock, data[[main]], data[[within]])
  single <- Filter(function(one) nlevels(data[[one]]) > 1, c(main, within))
  if (all(times == 1) && length(single) == 2) by_strata(data, main, within)
  else mixed(c(single, if (length(single) == 2) paste(single, collapse = ":")), c("wholeBlock", "mainPlot"), data)
}

# The multiple of the check on the log scale; where a plot of the pair yielded nothing, Fieller's from the pair's plots.
tell_ratios <- function(data, terms) {
  zero <- unique(as.character(data$variety[data$y == 0]))
  others <- setdiff(levels(data$variety), yield_check)
  logged <- if (yield_check %in% zero) character() else setdiff(others, zero)
  if (length(logged) > 0) {
    kept <- data[!data$variety %in% zero, ]
    kept$y <- log(kept$y)
    for (one in c(terms, "variety", "wholeBlock", "mainPlot", "treatment")) kept[[one]] <- factor(kept[[one]], levels(data[[one]])[levels(data[[one]]) %in% kept[[one]]])
    terms <- terms[vapply(terms, function(one) nlevels(kept[[one]]) > 1, TRUE)]
    fit <- if (design == "split-plot") split_model(kept) else least_squares(c(terms, "variety"), kept)
    if (!is.null(fit)) for (name in logged) {
      told <- contrast(fit, row_of(fit, variety = name) - row_of(fit, variety = yield_check))
      half <- qt(1 - (1 - LEVEL) / 2, told$df) * told$se
      tell_parts(list(ratio = exp(told$estimate), low = exp(told$estimate - half), high = exp(told$estimate + half)),
        "yield", "times the check", name)
      if (!is.na(yield_floor) && yield_floor > 0)
        tell(pt((told$estimate - log(yield_floor)) / told$se, told$df), "floor", name, "yield")
    }
  }
  for (name in setdiff(others, logged)) {
    split <- design == "split-plot" && !variety_on_main_plots
    where <- if (design == "latin") data$row else if (design == "split-plot" && variety_on_main_plots) data$wholeBlock else data$block
    values <- function(one) data$y[data$variety == one]
    shared <- if (design == "crd") character() else
      intersect(where[data$variety == name], where[data$variety == yield_check])
    mean_in <- function(one) vapply(shared, function(at) mean(data$y[data$variety == one & where == at]), 0)
    paired <- length(shared) >= 2
    a <- if (paired) mean_in(name) else values(name)
    b <- if (paired) mean_in(yield_check) else values(yield_check)
    # In a split plot the means are over covers (or sowings), each alike, and scatter is that within them.
    under <- if (paired && split) as.character(data$treatment[match(shared, where)]) else rep("all", length(a))
    of <- function(x) tapply(x, under, mean)
    if (paired) {
      df <- length(a) - length(unique(under))
      per <- sum(1 / table(under)) / length(unique(under))^2
      over <- function(x, y) if (df < 1) 0 else sum((x - of(x)[under]) * (y - of(y)[under])) / df * per
      va <- over(a, a); vb <- over(b, b); vab <- over(a, b)
      ma <- mean(of(a)); mb <- mean(of(b))
    } else {
      over <- function(x) if (length(x) < 2) 0 else var(x) / length(x)
      va <- over(a); vb <- over(b); vab <- 0
      df <- min(length(a), length(b)) - 1
      ma <- mean(a); mb <- mean(b)
    }
    ratio <- ma / mb
    t2 <- if (df > 0) qt(1 - (1 - LEVEL) / 2, df)^2 else NA
    lead <- mb^2 - t2 * vb
    if ((ma == 0 && va == 0) || mb == 0) next
    if (!is.na(lead) && lead > 1e-12 * mb^2) {
      middle <- ma * mb - t2 * vab
      root <- sqrt(max(0, middle^2 - lead * (ma^2 - t2 * va)))
      tell_parts(list(ratio = ratio, low = max(0, (middle - root) / lead), high = (middle + root) / lead), "yield", "times the check", name)
    }
    if (!is.na(yield_floor) && yield_floor > 0 && df > 0) {
      variance <- va - 2 * yield_floor * vab + yield_floor^2 * vb
      if (variance > 0) tell(pt((ma - yield_floor * mb) / sqrt(variance), df), "floor", name, "yield")
    }
  }
}

picked <- plots[!is.na(plots$yield), ]
if (nrow(picked) > 0) {
  picked$y <- picked$yield
  picked$variety <- factor(picked$variety, varieties[varieties %in% picked$variety])
  for (one in c("block", "wholeBlock", "replicate", "mainPlot", "treatment", "row", "column"))
    picked[[one]] <- factor(picked[[one]], unique(picked[[one]]))
  many <- function(terms) terms[vapply(terms, function(one) nlevels(picked[[one]]) > 1, TRUE)]
  model <- if (design %in% c("crd", "rcbd", "latin")) {
    terms <- many(c(yield_layout, "variety"))
    tell_anova(terms, picked)
    least_squares(terms, picked)
  } else if (design == "split-plot") {
    split_model(picked)
  } else {
    terms <- many(c(if (design == "incomplete-blocks") "replicate", "variety"))
    if (length(many(yield_layout)) > 0) mixed(terms, "block", picked) else least_squares(terms, picked)
  }
  if (!is.null(model) && "variety" %in% all.vars(model$fixed)) {
    tell_means(model, "yield")
    tell_pairs(model, "variety", "yield", "pair")
    if (!is.na(yield_check)) tell_to_check(model, "yield")
    if (design == "split-plot" && "treatment" %in% all.vars(model$fixed)) {
      for (name in levels(picked$treatment)) {
        tell_parts(mean_limits(contrast(model, row_of(model, treatment = name))), "yield", "main plots", name)
        for (one in levels(picked$variety))
          tell_parts(mean_limits(contrast(model, row_of(model, treatment = name, variety = one))), "yield", "under", name, one)
      }
      tell_pairs(model, "treatment", "yield", "main plots")
    }
  }
  if (!is.na(yield_check) && nlevels(picked$variety) > 1) tell_ratios(picked, many(yield_layout))
}
`;
