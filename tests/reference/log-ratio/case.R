# Ratios to the check by R: lm on log yields of the varieties without a plot of 0; where main plots lie within blocks,
# emmeans of aov with Error, or of lmer where plots are missing.
suppressMessages({library(jsonlite); library(emmeans)})
emm_options(msg.interaction = FALSE, lmer.df = "kenward-roger")
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
for (i in seq_along(reference$cases)) {
  case <- reference$cases[[i]]
  data <- frame(case$data)
  nought <- unique(as.character(data$variety[data$y == 0]))
  data <- droplevels(data[!data$variety %in% nought, ])
  data$variety <- relevel(data$variety, case$check)
  if ("mainPlot" %in% names(data)) {
    # With every plot in place by strata; otherwise REML with Kenward and Roger's df, by lme4 and pbkrtest.
    whole <- all(table(data$block, data$treatment, data$variety) == 1)
    own <- tapply(as.character(data$variety), data$mainPlot, function(one) length(unique(one)))
    model <- if (whole && all(own == 1)) aov(log(y) ~ treatment * variety + Error(block / variety), data)
      else if (whole) aov(log(y) ~ treatment * variety + Error(block / treatment), data)
      else lme4::lmer(log(y) ~ treatment * variety + (1 | block) + (1 | mainPlot), data,
        control = lme4::lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-10, maxfun = 1e5)))
    told <- confint(contrast(emmeans(model, "variety"), "trt.vs.ctrl", ref = case$check, adjust = "none"), adjust = "none")
    told <- as.data.frame(told)
    reference$cases[[i]]$expected <- list(varieties = I(setdiff(levels(data$variety), case$check)), ratio = I(exp(told$estimate)),
      low = I(exp(told$lower.CL)), high = I(exp(told$upper.CL)), withZeros = I(character()))
    next
  }
  model <- lm(if ("block" %in% names(data)) log(y) ~ block + variety else log(y) ~ variety, data)
  own <- grep("^variety", names(coef(model)))
  limits <- confint(model)[own, , drop = FALSE]
  reference$cases[[i]]$expected <- list(varieties = I(levels(data$variety)[-1]), ratio = I(unname(exp(coef(model)[own]))),
    low = I(unname(exp(limits[, 1]))), high = I(unname(exp(limits[, 2]))), withZeros = I(as.character(nought)))
}
save(c("stats", "emmeans", "lme4", "pbkrtest"))
