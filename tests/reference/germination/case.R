# Constructed daily counts
# Source: Formulas: Coolbear P, Francis A, Grierson D (1984) J Exp Bot 35:1609-1617; Farooq M et al. (2005) J Integr Plant Biol 47:187-193; Ellis RH, Roberts EH (1980) MGT (provenance: constructed)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, stats 4.2.2, survival 3.5.3
ge <- function(data) lapply(data, function(d) germ(d$day, d$new, d$sown[1]))
germ <- function(day, newg, sown) { N <- sum(newg); cum <- cumsum(newg); t50 <- function(target) { if (N == 0) return(NA); j <- which(cum >= target)[1]; if (j == 1) { ti <- 0; ni <- 0 } else { ti <- day[j - 1]; ni <- cum[j - 1] }; if (cum[j] == target) return(day[j]); ti + (target - ni)*(day[j] - ti)/(cum[j] - ni) }; f <- newg[newg > 0]/N; mg <- sum(newg*day)/N; v <- if (N > 1) sum(newg*(day - mg)^2)/(N - 1) else NA
  list(germinated = N, sown = sown, percent = 100*N/sown, wilson = wilson(N, sown), clopper_pearson = clopper_pearson(N, sown), t50_farooq_N_over_2 = t50(N/2), t50_coolbear_N_plus_1_over_2 = t50((N + 1)/2), t50_of_sown = if (N >= sown/2) t50(sown/2) else NA, mgt = mg, var_germination_time = v, se_mgt = sqrt(v/N), mean_rate = 1/mg, cvg = 100/mg, germination_index_sum_n_over_t = sum(newg/day), uncertainty_bits = -sum(f*log2(f)), synchrony_Z = if (N > 1) sum(choose(newg, 2))/choose(N, 2) else NA, first_day = day[which(newg > 0)[1]], last_day = max(day[newg > 0])) }
clopper_pearson <- function(x, n, conf = 0.95) { a <- 1 - conf
  c(lower = if (x == 0) 0 else qbeta(a/2, x, n - x + 1), upper = if (x == n) 1 else qbeta(1 - a/2, x + 1, n - x)) }
wilson <- function(x, n, conf = 0.95) { z <- qnorm(1 - (1 - conf)/2); p <- x/n
  c0 <- (x + z^2/2)/(n + z^2); h <- z*sqrt(n)/(n + z^2)*sqrt(p*(1 - p) + z^2/(4*n))
  lo <- if (x == 0) 0 else c0 - h; hi <- if (x == n) 1 else c0 + h; c(lower = lo, upper = hi) }
data <- list(`typical` = data.frame(
  day = c(
    1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14
  ),
  new = c(
    0, 0, 0, 4, 17, 10, 7, 1, 0, 1, 0, 0, 0, 0
  ),
  sown = c(
    50, 50, 50, 50, 50, 50, 50, 50, 50, 50, 50, 50, 50, 50
  )
), `slow` = data.frame(
  day = c(
    2, 4, 6, 8, 10, 12
  ),
  new = c(
    0, 3, 5, 8, 2, 0
  ),
  sown = c(
    25, 25, 25, 25, 25, 25
  )
))
f <- function(data) ge(data)
print(f(data), digits = 17)
