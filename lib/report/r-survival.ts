/**
 * The survival part of the R script: the same construction as `lib/statistics/effective-plants`, written out in base R
 * from its formulas. It expects `plots`, `counts`, `followed`, `looks` and the settings that `rScript` writes above it.
 */
export const rSurvival = `
# ---- Survival --------------------------------------------------------------------------------------------------------
# Plants of one plot share their fate, so the plot is the unit: plants are cut down to effective plants by how much plots
# of one variety scatter beyond chance, and Wilson's interval stands at those. Our own construction of published parts.

wilson <- function(x, n, z) {
  p <- x / n
  centre <- (p + z^2 / (2 * n)) / (1 + z^2 / n)
  half <- z / (1 + z^2 / n) * sqrt(p * (1 - p) / n + z^2 / (4 * n^2))
  c(if (x <= 0) 0 else centre - half, if (x >= n) 1 else centre + half)
}

newcombe <- function(p1, n1, p2, n2, z) {
  a <- wilson(min(p1 * n1, n1), n1, z)
  b <- wilson(min(p2 * n2, n2), n2, z)
  c(p1 - p2, p1 - p2 - sqrt((p1 - a[1])^2 + (b[2] - p2)^2), p1 - p2 + sqrt((a[2] - p1)^2 + (p2 - b[1])^2))
}

# Binomial variance at (x + 1/2)/(n + 1), which stays above nought where none or all stand.
binomial_variance <- function(x, n) { p <- (x + 0.5) / (n + 1); p * (1 - p) }

# Mean square, df and plants a plot of the weighted residuals of the plots' shares.
scatter <- function(held, terms) {
  terms <- terms[vapply(terms, function(one) length(unique(held[[one]])) > 1, TRUE)]
  held$p <- held$x / held$n
  for (one in terms) held[[one]] <- factor(held[[one]])
  model <- lm(reformulate(if (length(terms)) terms else "1", "p"), held, weights = n)
  df <- model$df.residual
  if (df == 0) return(list(df = 0, ms = 0, size = 1))
  list(df = df, ms = sum(held$n * residuals(model)^2) / df, size = sum(held$n * (1 - hatvalues(model))) / df)
}

# How much plants of one plot share their fate: weights of 40 intra-class correlations.
clumping <- function(fit, u, power = 2) {
  theta <- ((1:40) - 0.5) * pi / 80
  rho <- sin(theta)^2
  log_weight <- power * log(cos(theta))
  if (fit$df > 0) {
    f <- fit$ms / mean(u)
    df <- fit$df * sum(u)^2 / (length(u) * sum(u^2))
    design <- 1 + (fit$size - 1) * rho
    log_weight <- log_weight - df / 2 * (log(design) + f / design)
  }
  weight <- exp(log_weight - max(log_weight))
  list(rho = rho, weight = weight / sum(weight))
}

# What takes the place of z when the correlation is known only so far.
multiplier <- function(belief, size, tail) {
  spread <- sqrt(1 + pmax(0, size - 1) * belief$rho)
  excess <- function(k) sum(belief$weight * pnorm(-k / spread)) - tail
  z <- qnorm(tail, lower.tail = FALSE)
  if (excess(z) <= 0) return(z)
  uniroot(excess, c(z, 2 * z * max(spread)), tol = 1e-14)$root
}

totals <- function(d) do.call(rbind, lapply(unique(d$group), function(name) {
  own <- d[d$group == name, ]
  data.frame(group = name, x = sum(own$x), n = sum(own$n), size = if (sum(own$n) > 0) sum(own$n^2) / sum(own$n) else NA)
}))

# Shares with limits at effective plants, given how much plants clump.
shares_at <- function(sums, belief, level, comparisons) {
  tail <- (1 - level) / comparisons / 2
  z <- qnorm(tail, lower.tail = FALSE)
  sums$share <- sums$x / sums$n
  sums$k <- vapply(seq_len(nrow(sums)), function(i) if (sums$n[i] > 0) multiplier(belief, sums$size[i], tail) else NA_real_, 0)
  sums$effective <- sums$n * (z / sums$k)^2
  limits <- vapply(seq_len(nrow(sums)), function(i) {
    if (!(sums$n[i] > 0)) return(c(NA_real_, NA_real_))
    wilson(min(sums$share[i] * sums$effective[i], sums$effective[i]), sums$effective[i], z)
  }, c(0, 0))
  sums$low <- limits[1, ]
  sums$high <- limits[2, ]
  list(shares = sums, z = z, tail = tail)
}

layout_terms <- switch(layout, crd = character(), rcbd = "block", latin = c("row", "column"))

# Varieties' shares from whole counts: d holds group, the layout's columns, n plants and x standing a plot.
effective <- function(d, terms, level = LEVEL, comparisons = 1) {
  held <- d[d$n > 0, ]
  sums <- totals(held)
  belief <- clumping(scatter(held, c(terms, "group")), binomial_variance(sums$x, sums$n))
  c(shares_at(totals(d), belief, level, comparisons), list(belief = belief))
}

# The share standing at one day from plants of which some were taken out before: Kaplan and Meier's.
kaplan_meier <- function(day, lost, plants, at) {
  share <- 1
  sum_of <- 0
  for (now in sort(unique(day[lost & day <= at]))) {
    risk <- sum(plants[day >= now])
    gone <- sum(plants[day == now & lost])
    share <- share * (risk - gone) / risk
    if (risk > gone) sum_of <- sum_of + gone / (risk * (risk - gone))
  }
  list(share = share, variance = share^2 * sum_of,
       followed = sum(plants[day > at]) + sum(plants[day == at & !lost]), lost = sum(plants[lost & day <= at]))
}

# Limits at each of several days: the plots' curves give the clumping, the variety's Greenwood's plants.
standing_limits <- function(own, days, level = LEVEL, comparisons = 1) {
  known <- plots[plots$plot %in% own$plot, ]
  tail <- (1 - level) / comparisons / 2
  z <- qnorm(tail, lower.tail = FALSE)
  do.call(rbind, lapply(days, function(at) {
    d <- known
    d$group <- d$variety
    state <- lapply(d$plot, function(code) with(own[own$plot == code, ], kaplan_meier(day, lost, plants, at)))
    unknown <- vapply(state, function(s) s$followed == 0 && s$share > 0, TRUE)
    d$n <- ifelse(unknown, 0, vapply(state, function(s) s$followed + s$lost, 0))
    d$x <- d$n * vapply(state, function(s) s$share, 0)
    fit <- effective(d, layout_terms, level, comparisons)
    do.call(rbind, lapply(unique(d$variety), function(name) {
      s <- with(own[own$plot %in% d$plot[d$variety == name], ], kaplan_meier(day, lost, plants, at))
      k <- fit$shares$k[fit$shares$group == name]
      if (is.na(k) || (s$followed == 0 && s$share > 0))
        return(data.frame(day = at, group = name, share = NA, low = NA, high = NA, effective = NA))
      worth <- if (s$variance > 0) s$share * (1 - s$share) / s$variance else s$followed + s$lost
      n <- worth * (z / k)^2
      limits <- wilson(s$share * n, n, z)
      data.frame(day = at, group = name, share = s$share, low = limits[1], high = limits[2], effective = n)
    }))
  }))
}

# Whole main plots as clusters: what covers, sowing dates (or varieties) did that were dealt to them.
main_plots <- function(d, level = LEVEL, comparisons = 1) {
  mains <- aggregate(cbind(x, n) ~ group + unit + wholeBlock, d, sum)
  mains <- mains[order(match(mains$unit, unique(d$unit))), ]
  held <- mains[mains$n > 0, ]
  cells <- aggregate(cbind(x, n) ~ group + within, d[d$n > 0, ], sum)
  cells$u <- binomial_variance(cells$x, cells$n)
  u <- as.vector(tapply(cells$u, cells$group, mean))
  belief <- clumping(scatter(held, c("wholeBlock", "group")), u, 6)
  c(shares_at(totals(mains), belief, level, comparisons), list(belief = belief))
}

# A look-see bed: clumping from the check's plots alone, each entry against the two checks nearest to it.
look_see <- function(d, level = LEVEL) {
  checks <- d[d$variety == look_see_check & d$n > 0, ]
  belief <- clumping(scatter(checks, character()), binomial_variance(sum(checks$x), sum(checks$n)))
  fit <- c(shares_at(totals(d), belief, level, 1), list(belief = belief))
  fit$nearest <- lapply(setNames(nm = setdiff(d$variety, look_see_check)), function(name) {
    own <- d[d$variety == name, ][1, ]
    near <- checks[order(sqrt((checks$at_x - own$at_x)^2 + (checks$at_y - own$at_y)^2)), ]
    near <- near[seq_len(min(2, nrow(near))), ]
    near$group <- "checks"
    both <- rbind(cbind(shares_at(totals(own), belief, level, 1)$shares), shares_at(totals(near), belief, level, 1)$shares)
    if (both$n[1] == 0) return(rep(NA_real_, 3))
    newcombe(both$share[1], both$effective[1], both$share[2], both$effective[2], fit$z)
  })
  fit
}

fit_step <- function(step, comparisons) {
  d <- merge(plots, counts[counts$step == step, ], by = "plot", sort = FALSE)
  d <- d[order(match(d$plot, plots$plot)), ]
  d$group <- d$variety
  d$n <- d$setOut - d$takenOut
  d$x <- d$standing
  d$at_x <- ifelse(is.na(d$column), seq_len(nrow(d)) - 1, d$column)
  d$at_y <- ifelse(is.na(d$row), 0, d$row)
  fit <- if (any(d$takenOut > 0)) {
    own <- followed[followed$step == step, ]
    at <- until[[step]]
    limits <- standing_limits(own, at, comparisons = comparisons)
    sums <- totals(d)
    limits <- limits[match(sums$group, limits$group), ]
    limits$n <- sums$n
    limits$size <- sums$size
    e <- lapply(d$plot, function(code) with(own[own$plot == code, ], kaplan_meier(day, lost, plants, at)))
    unknown <- vapply(e, function(s) s$followed == 0 && s$share > 0, TRUE)
    held <- d
    held$n <- ifelse(unknown, 0, vapply(e, function(s) s$followed + s$lost, 0))
    held$x <- held$n * vapply(e, function(s) s$share, 0)
    list(shares = limits, z = qnorm(1 - (1 - LEVEL) / comparisons / 2),
         belief = effective(held, layout_terms, LEVEL, comparisons)$belief)
  } else if (design == "split-plot" && variety_on_main_plots) {
    d$unit <- d$mainPlot
    d$within <- d$treatment
    main_plots(d, comparisons = comparisons)
  } else if (design == "split-plot") {
    cells <- d
    cells$group <- paste(d$treatment, d$variety, sep = " / ")
    belief <- effective(cells, "block", LEVEL, comparisons)$belief
    c(shares_at(totals(d), belief, LEVEL, comparisons), list(belief = belief))
  } else if (!is.na(look_see_check)) look_see(d)
  else effective(d, layout_terms, LEVEL, comparisons)
  fit$data <- d
  fit
}

difference_of <- function(fit, a, b) {
  of <- function(name) fit$shares[match(name, fit$shares$group), ]
  one <- of(a)
  other <- of(b)
  if (is.na(one$effective) || is.na(other$effective)) return(rep(NA_real_, 3))
  newcombe(one$share, one$effective, other$share, other$effective, fit$z)
}

tell_limits <- function(values, ...) for (part in seq_along(values)) tell(values[part], ..., c("difference", "low", "high")[part])

tell_shares <- function(fit, ...) for (i in seq_len(nrow(fit$shares)))
  for (part in c("share", "low", "high", "effective")) tell(fit$shares[[part]][i], ..., fit$shares$group[i], part)

for (step in names(until)) {
  fit <- fit_step(step, 1)
  tell(sum(fit$belief$weight * fit$belief$rho), step, "intra-class correlation")
  tell_shares(fit, step)
  others <- setdiff(varieties, check)
  if (!is.na(check)) {
    family <- if (is.null(fit$nearest) && length(others) > 0) fit_step(step, length(others)) else NULL
    for (name in others) {
      pair <- paste(name, "less", check)
      tell_limits(if (is.null(fit$nearest)) difference_of(fit, name, check) else fit$nearest[[name]], step, pair)
      if (!is.null(family)) tell_limits(c(NA, difference_of(family, name, check)[2:3]), step, pair, "all at once")
    }
  } else for (j in seq_along(varieties)) for (i in seq_len(j - 1))
    tell_limits(difference_of(fit, varieties[j], varieties[i]), step, paste(varieties[j], "less", varieties[i]))

  if (step == "both") {
    whole <- fit
    # The floor of the rule: how likely the share is at least that, in this bed and this winter.
    at_least_floor <- function(own, belief) {
      d <- 1 + (own$size - 1) * belief$rho
      x <- own$share * own$n
      sum(belief$weight * pbeta(survival_floor, 0.5 + x / d, 0.5 + (own$n - x) / d, lower.tail = FALSE))
    }
    if (!is.na(survival_floor)) for (i in seq_len(nrow(fit$shares))) {
      own <- fit$shares[i, ]
      if (!is.na(own$share)) tell(at_least_floor(own, fit$belief), "floor", own$group, "survival")
    }
    # Losses by cause, with Wilson's limits at the effective plants of the variety.
    lost <- followed[followed$step == step & followed$lost, ]
    lost$variety <- plots$variety[match(lost$plot, plots$plot)]
    for (name in unique(lost$variety)) for (cause in unique(lost$cause[lost$variety == name])) {
      share <- sum(lost$plants[lost$variety == name & lost$cause == cause]) / sum(fit$data$setOut[fit$data$variety == name])
      n <- fit$shares$effective[fit$shares$group == name]
      tell(share, "lost", name, cause, "share")
      limits <- if (is.na(n)) c(NA, NA) else wilson(min(share * n, n), n, fit$z)
      tell(limits[1], "lost", name, cause, "low")
      tell(limits[2], "lost", name, cause, "high")
    }
    # Standing after each look; a loss counts on the day on which it was seen.
    own <- followed[followed$step == step, ]
    if (length(looks) > 0) {
      curve <- standing_limits(own, looks)
      for (i in seq_len(nrow(curve))) for (part in c("share", "low", "high"))
        tell(curve[[part]][i], "standing", curve$group[i], paste("day", curve$day[i]), part)
      last <- max(looks)
      for (name in unique(curve$group)) {
        mine <- own[own$plot %in% plots$plot[plots$variety == name], ]
        ends <- sort(unique(c(0, mine$day[mine$lost & mine$day < last], last)))
        at <- vapply(ends[-length(ends)], function(now) kaplan_meier(mine$day, mine$lost, mine$plants, now)$share, 0)
        watched <- max(mine$day) >= last || kaplan_meier(mine$day, mine$lost, mine$plants, max(mine$day))$share == 0
        if (last > 0) tell(if (watched) sum(diff(ends) * at) else NA, "standing", name, "mean days")
      }
    }
    # Covers or sowing dates on main plots.
    if (design == "split-plot" && length(unique(plots$treatment)) > 1) {
      d <- fit$data
      cells <- d[d$n > 0, ]
      cells$group <- paste(cells$treatment, cells$variety, sep = " / ")
      in_cells <- effective(cells, "block")
      tell_shares(in_cells, "under")
      treatments <- unique(plots$treatment)
      if (!is.na(survival_floor)) for (treatment in treatments) for (name in varieties) {
        own <- in_cells$shares[match(paste(treatment, name, sep = " / "), in_cells$shares$group), ]
        if (!is.na(own$share)) tell(at_least_floor(own, in_cells$belief), "floor", name, "survival", treatment)
      }
      if (!variety_on_main_plots) {
        d <- d[d$n > 0, ]
        d$group <- d$treatment
        d$unit <- d$mainPlot
        d$within <- d$variety
        mains <- main_plots(d)
        tell_shares(mains, "main plots")
      }
      for (j in seq_along(treatments)) for (i in seq_len(j - 1)) {
        a <- treatments[j]
        b <- treatments[i]
        if (!variety_on_main_plots) {
          limits <- difference_of(mains, a, b)
          if (length(unique(plots$wholeBlock)) < 3) limits[2:3] <- NA
          tell_limits(limits, "main plots", paste(a, "less", b))
        }
        pairs <- if (!is.na(check)) lapply(others, function(name) c(name, check))
          else combn(varieties, 2, rev, simplify = FALSE)
        for (pair in pairs) {
          one <- difference_of(in_cells, paste(a, pair[1], sep = " / "), paste(a, pair[2], sep = " / "))
          other <- difference_of(in_cells, paste(b, pair[1], sep = " / "), paste(b, pair[2], sep = " / "))
          estimate <- one[1] - other[1]
          tell_limits(c(estimate, estimate - sqrt((one[1] - one[2])^2 + (other[3] - other[1])^2),
                        estimate + sqrt((one[3] - one[1])^2 + (other[1] - other[2])^2)),
                      "depends", paste(pair[1], "less", pair[2]), paste(a, "less", b))
        }
      }
    }
  }
}
`;
