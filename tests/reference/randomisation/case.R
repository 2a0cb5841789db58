# 3 blocks x 3 varieties (constructed)
# Source: Constructed
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages coin 1.4.2, MASS 7.3.58.2, Matrix 1.5.3, metadat 1.2.0, metafor 3.8.1, stats 4.2.2, survival 3.5.3

blocked_perm <- function(y, trt, block) { b <- unique(block); t <- unique(trt); k <- length(t); P <- perms(k); Y <- lapply(b, function(bb) y[block == bb][match(t, trt[block == bb])]); Yp <- lapply(Y, function(v) matrix(v[P], nrow(P))); S <- Yp[[1]][1, , drop = FALSE]; tot <- matrix(Y[[1]], 1); for (i in 2:length(b)) { tot <- do.call(rbind, lapply(seq_len(nrow(P)), function(j) sweep(tot, 2, Yp[[i]][j, ], "+"))) }; ss <- rowSums((tot - rowMeans(tot))^2); obs <- Reduce("+", Y); so <- sum((obs - mean(obs))^2); # first block fixed: WLOG by relabelling symmetry
  cnt <- sum(ss >= so*(1 - 1e-9) - 1e-12); list(statistic_treatment_SS = so/length(b), count = cnt, total = length(ss), note = "first block held fixed (multiply count and total by k! for the full enumeration)", full_total = length(ss)*factorial(k), full_count = cnt*factorial(k), p = cnt/length(ss)) }
perms <- function(n) { if (n == 1) return(matrix(1, 1, 1)); p <- perms(n - 1); do.call(rbind, lapply(1:n, function(i) cbind(i, matrix((1:n)[-i][p], nrow(p))))) }
data <- data.frame(
  block = c("B1", "B1", "B1", "B2", "B2", "B2", "B3", "B3", "B3"),
  trt = c("A", "B", "C", "A", "B", "C", "A", "B", "C"),
  y = c(2.1, 2.9, 3.6, 1.8, 2.2, 3.1, 2.5, 3.4, 3.3)
)
f <- function(data) list(own = blocked_perm(data$y, data$trt, data$block), coin_asymptotic = { i <- coin::independence_test(y ~ factor(trt) | factor(block), data, teststat = "quadratic"); c(stat = as.numeric(coin::statistic(i)), p = as.numeric(coin::pvalue(i))) })
print(f(data), digits = 17)
# Darwin's Zea mays, 15 pairs (eighths of an inch)
# Source: Darwin C (1876); Fisher RA (1935) The Design of Experiments s.21
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, Matrix 1.5.3, metadat 1.2.0, metafor 3.8.1, stats 4.2.2, survival 3.5.3

signflip <- function(d) { n <- length(d); S <- 0; for (x in d) S <- c(S + x, S - x); o <- sum(d); e <- 1e-9*max(1, abs(o)); list(n = n, mean_diff = mean(d), total = 2^n, count_two_sided = sum(abs(S) >= abs(o) - e), p_two_sided = mean(abs(S) >= abs(o) - e), p_greater = mean(S >= o - e)) }
data <- data.frame(
  pair = c(1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15),
  cross = c(188, 96, 168, 176, 153, 172, 177, 163, 146, 173, 186, 168, 177, 184, 96),
  self = c(139, 163, 160, 160, 147, 149, 149, 122, 132, 144, 130, 144, 102, 124, 144)
)
f <- function(data) c(signflip(data$cross - data$self), list(paired_t = { t <- t.test(data$cross, data$self, paired = TRUE); c(t = unname(t$statistic), df = unname(t$parameter), p = t$p.value) }, wilcoxon_signed_rank_exact_note = "ties in |d| present"))
print(f(data), digits = 17)
# Permeability constants (R ?wilcox.test), 10 at term vs 5 at 12-26 weeks
# Source: Hollander M, Wolfe DA (1973) p.69f
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages coin 1.4.2, MASS 7.3.58.2, Matrix 1.5.3, metadat 1.2.0, metafor 3.8.1, stats 4.2.2, survival 3.5.3

two_perm <- function(y1, y2) { y <- c(y1, y2); n1 <- length(y1); cb <- combn(length(y), n1); s <- colSums(matrix(y[cb], n1)); N <- length(y); d <- s/n1 - (sum(y) - s)/(N - n1); o <- mean(y1) - mean(y2); e <- 1e-9*max(1, abs(o)); list(diff = o, total = length(d), count_two_sided = sum(abs(d) >= abs(o) - e), p_two_sided = mean(abs(d) >= abs(o) - e), p_greater = mean(d >= o - e), p_less = mean(d <= o + e)) }
data <- data.frame(
  group = c("A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "B", "B", "B", "B", "B"),
  y = c(0.8, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46, 1.15, 0.88, 0.9, 0.74, 1.21)
)
f <- function(data) { a <- data$y[data$group == "A"]; b <- data$y[data$group == "B"]; w <- wilcox.test(a, b, exact = TRUE, conf.int = TRUE); list(own = two_perm(a, b), coin_exact_p = as.numeric(coin::pvalue(coin::oneway_test(y ~ factor(group), data, distribution = "exact"))), wilcoxon_exact = list(W = unname(w$statistic), p_two_sided = w$p.value, p_greater = wilcox.test(a, b, alternative = "greater")$p.value, hl_estimate = unname(w$estimate), lower = w$conf.int[1], upper = w$conf.int[2])) }
print(f(data), digits = 17)
