# Ratios to the check by R: lm on log yields of the varieties without a plot of 0.
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
for (i in seq_along(reference$cases)) {
  case <- reference$cases[[i]]
  data <- frame(case$data)
  nought <- unique(as.character(data$variety[data$y == 0]))
  data <- droplevels(data[!data$variety %in% nought, ])
  data$variety <- relevel(data$variety, case$check)
  model <- lm(if ("block" %in% names(data)) log(y) ~ block + variety else log(y) ~ variety, data)
  own <- grep("^variety", names(coef(model)))
  limits <- confint(model)[own, , drop = FALSE]
  reference$cases[[i]]$expected <- list(varieties = I(levels(data$variety)[-1]), ratio = I(unname(exp(coef(model)[own]))),
    low = I(unname(exp(limits[, 1]))), high = I(unname(exp(limits[, 2]))), withZeros = I(as.character(nought)))
}
save("stats")
