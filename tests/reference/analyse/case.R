# Reads the same two files as the command does, case by case, and prints what R makes of them as JSON.
# Run in this folder: Rscript case.R > expected.json
library(emmeans)
library(jsonlite)
library(lmerTest)
library(mvtnorm)

yields <- function(case) {
  plots <- read.csv(file.path(case, "plots.csv"), colClasses = "character")
  picks <- read.csv(file.path(case, "observations.csv"), colClasses = c(plot = "character"))
  d <- merge(plots, picks[picks$kind == "harvest", c("plot", "amount")], by = "plot")
  d <- d[order(match(d$plot, plots$plot)), ]
  for (name in c("variety", "block", "row", "column"))
    if (!is.null(d[[name]])) d[[name]] <- factor(d[[name]], levels = unique(plots[[name]]))
  d
}

lines_of <- function(table) {
  data.frame(term = rownames(table), df = table$Df, ss = table$`Sum Sq`, ms = table$`Mean Sq`,
             f = table$`F value`, p = table$`Pr(>F)`, row.names = NULL)
}

means_of <- function(e) {
  s <- as.data.frame(e)
  data.frame(variety = s$variety, mean = s$emmean, se = s$SE, df = s$df, low = s$lower.CL, high = s$upper.CL)
}

contrasts_of <- function(pairs) {
  s <- as.data.frame(summary(pairs, infer = TRUE))
  data.frame(contrast = s$contrast, estimate = s$estimate, se = s$SE, df = s$df,
             low = s$lower.CL, high = s$upper.CL, p = s$p.value)
}

# Dunnett by the multivariate t itself; emmeans' own adjust = "mvt" stops at three digits.
dunnett_of <- function(e, check) {
  pairs <- contrast(e, "trt.vs.ctrl", ref = check, adjust = "none")
  s <- as.data.frame(summary(pairs, infer = TRUE))
  corr <- cov2cor(vcov(pairs))
  df <- s$df[1]
  fine <- GenzBretz(maxpts = 2e5, abseps = 1e-6, releps = 0)
  set.seed(1)
  beyond <- function(t) 1 - pmvt(rep(-t, nrow(s)), rep(t, nrow(s)), df = df, corr = corr, algorithm = fine)[1]
  k <- uniroot(function(t) beyond(t) - 0.05, c(1.5, 5), tol = 1e-5)$root
  data.frame(contrast = s$contrast, estimate = s$estimate, se = s$SE, df = s$df, low = s$estimate - k * s$SE,
             high = s$estimate + k * s$SE, p = sapply(abs(s$t.ratio), beyond))
}

fixed <- function(case, formula, check, per_plant = FALSE) {
  d <- yields(case)
  if (per_plant) d$amount <- d$amount / as.numeric(d$plants)
  m <- lm(formula, d)
  e <- emmeans(m, ~variety)
  log_ratio <- summary(contrast(emmeans(lm(update(formula, log(amount) ~ .), d), ~variety),
                                "trt.vs.ctrl", ref = check, adjust = "none"), infer = TRUE)
  list(anova = lines_of(anova(m)), residualDf = df.residual(m), cv = 100 * sigma(m) / mean(d$amount),
       means = means_of(e),
       tukey = contrasts_of(contrast(e, "revpairwise", adjust = "tukey")),
       check = check,
       dunnett = dunnett_of(e, check),
       ratios = data.frame(contrast = log_ratio$contrast, ratio = exp(log_ratio$estimate),
                           low = exp(log_ratio$lower.CL), high = exp(log_ratio$upper.CL)))
}

# Blocks of four hold half of the eight treatments each: no treatment mean is estimable.
confounded <- function(case, formula) {
  m <- lm(formula, yields(case))
  list(anova = lines_of(anova(m)), residualDf = df.residual(m), cv = 100 * sigma(m) / mean(m$model$amount))
}

# Several errors: REML with Kenward and Roger's df, as emmeans and lmerTest give it.
mixed <- function(case, formula) {
  d <- yields(case)
  plots <- read.csv(file.path(case, "plots.csv"), colClasses = "character")
  for (name in c("cover", "replicate", "main_plot")) if (!is.null(d[[name]])) d[[name]] <- factor(d[[name]], levels = unique(plots[[name]]))
  m <- lmer(formula, d, control = lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-9)))
  a <- anova(m, type = 3, ddf = "Kenward-Roger")
  v <- as.data.frame(VarCorr(m))
  list(tests = data.frame(term = rownames(a), df = a$NumDF, df2 = a$DenDF, f = a$`F value`, p = a$`Pr(>F)`),
       variance = data.frame(component = v$grp, estimate = v$vcov),
       means = means_of(emmeans(m, ~variety, lmer.df = "kenward-roger")),
       tukey = contrasts_of(contrast(emmeans(m, ~variety, lmer.df = "kenward-roger"), "revpairwise", adjust = "tukey"))[1:5, ])
}

options(contrasts = c("contr.treatment", "contr.poly"))
results <- list(
  oats = mixed("oats", amount ~ cover * variety + (1 | block/cover)),
  `oats-missing` = mixed("oats-missing", amount ~ cover * variety + (1 | block/cover)),
  alpha = mixed("alpha", amount ~ replicate + variety + (1 | replicate:block)),
  augmented = mixed("augmented", amount ~ variety + (1 | block)),
  cucumber = fixed("cucumber", amount ~ row + column + variety, "Dasher"),
  stools = fixed("stools", amount ~ block + variety, "T1"),
  barley = fixed("barley", amount ~ block + variety, "M"),
  `barley-missing` = fixed("barley-missing", amount ~ block + variety, "M"),
  beets = fixed("beets", amount ~ block + variety, "None"),
  `beets-per-plant` = fixed("beets", amount ~ block + variety, "None", per_plant = TRUE),
  plants = fixed("plants", amount ~ variety, "ctrl"),
  npk = confounded("npk", amount ~ block + variety)
)
cat(toJSON(results, digits = I(17), auto_unbox = TRUE, na = "null", dataframe = "rows", pretty = TRUE), "\n")
