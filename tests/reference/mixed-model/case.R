# Linear mixed models by lme4 (bobyqa, tight), with Kenward-Roger by pbkrtest and Satterthwaite by lmerTest, means by
# emmeans. Reads the data, formula and factors asked for in case.json and writes `expected` beside them.
# Rscript case.R
suppressMessages({library(lmerTest); library(emmeans); library(jsonlite)})
emm_options(pbkrtest.limit = 5000, lmerTest.limit = 5000)
bare <- function(table, columns) {
  frame <- as.data.frame(table)
  setNames(lapply(columns, function(column) I(as.numeric(frame[[column]]))), c("estimate", "se", "df"))
}
means <- function(model, factor, how) {
  grid <- emmeans(model, factor, lmer.df = how)
  list(levels = as.character(as.data.frame(grid)[[1]]),
       means = bare(grid, c("emmean", "SE", "df")),
       # Each against the first.
       differences = bare(contrast(grid, "trt.vs.ctrl1", adjust = "none"), c("estimate", "SE", "df")))
}
tests <- function(model, how) {
  table <- as.data.frame(anova(model, ddf = how, type = 3))
  lapply(seq_len(nrow(table)), function(i) list(term = rownames(table)[i], df1 = table$NumDF[i], df2 = table$DenDF[i],
                                                f = table[["F value"]][i], p = table[["Pr(>F)"]][i]))
}
fit <- function(case) {
  data <- as.data.frame(case$data)
  for (column in setdiff(names(data), "y")) data[[column]] <- factor(data[[column]], levels = unique(data[[column]]))
  model <- lmerTest::lmer(as.formula(case$formula), data, control = lmerControl(optimizer = "bobyqa",
    optCtrl = list(rhobeg = 0.2, rhoend = 1e-11, maxfun = 1e6), check.conv.singular = "ignore"))
  variances <- as.data.frame(VarCorr(model))
  asked <- unlist(case$means)
  list(variances = setNames(as.list(variances$vcov), variances$grp), singular = isSingular(model, tol = 1e-6),
       deviance = as.numeric(REMLcrit(model)),
       tests = if (length(asked)) tests(model, "Kenward-Roger") else list(),
       satterthwaite = if (length(asked)) tests(model, "Satterthwaite") else list(),
       means = lapply(asked, function(one) means(model, one, "kenward-roger")),
       satterthwaiteMeans = lapply(asked, function(one) means(model, one, "satterthwaite")),
       predictions = lapply(ranef(model, condVar = TRUE), function(one)
         list(levels = rownames(one), estimate = one[, 1])))
}
reference <- fromJSON("case.json", simplifyVector = TRUE, simplifyDataFrame = FALSE)
for (i in seq_along(reference$cases)) {
  reference$cases[[i]]$expected <- fit(reference$cases[[i]])
  reference$cases[[i]]$means <- I(as.character(unlist(reference$cases[[i]]$means)))
}
reference$madeBy <- R.version.string
reference$packages <- lapply(setNames(nm = c("lme4", "lmerTest", "pbkrtest", "emmeans")),
                             function(one) as.character(packageVersion(one)))
writeLines(toJSON(reference, digits = NA, auto_unbox = TRUE, null = "null", na = "null"), "case.json")
