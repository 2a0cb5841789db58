# Analyses of variance by R: lm and anova for sequential sums of squares, car::Anova under sum contrasts for type III.
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
  model <- lm(as.formula(case$formula), data)
  table <- anova(model)
  reference$cases[[i]]$expected <- list(sequential = listed(data.frame(term = trimws(rownames(table)), df = table$Df,
    ss = table[["Sum Sq"]], f = table[["F value"]], p = table[["Pr(>F)"]])))
  if (isTRUE(case$typeIII)) {
    factors <- setdiff(names(data), "y")
    sums <- setNames(rep(list("contr.sum"), length(factors)), factors)
    table <- car::Anova(lm(as.formula(case$formula), data, contrasts = sums), type = 3)[-1, ]
    reference$cases[[i]]$expected$typeIII <- listed(data.frame(term = trimws(rownames(table)), df = table$Df,
      ss = table[["Sum Sq"]], f = table[["F value"]], p = table[["Pr(>F)"]]))
  }
}
save(c("stats", "car"))
