# metadat::dat.bcg log RR, log OR, RD
# Source: Colditz GA et al. (1994) JAMA 271:698-702 (provenance: R package data)
# Made with R version 4.2.2 Patched (2022-11-10 r83330); packages MASS 7.3.58.2, Matrix 1.5.3, metadat 1.2.0, metafor 3.8.1, stats 4.2.2, survival 3.5.3
data <- list(`logRR` = data.frame(
  trial = c(
    1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13
  ),
  author = c(
    "Aronson", "Ferguson & Simes", "Rosenthal et al", "Hart & Sutherland", "Frimodt-Moller et al",
    "Stein & Aronson", "Vandiviere et al", "TPT Madras", "Coetzee & Berjak", "Rosenthal et al",
    "Comstock et al", "Comstock & Webster", "Comstock et al"
  ),
  yi = c(
    -0.8893113339202054, -1.5853886572014306, -1.3480731482996933, -1.4415511900213054,
    -0.21754732221129558, -0.786115585818864, -1.6208982235983918, 0.011952333523840508,
    -0.4694176487381494, -1.3713448034727844, -0.3393588283383906, 0.44591340057137874,
    -0.017313948216879815
  ),
  vi = c(
    0.32558476500396133, 0.19458112139814385, 0.4153679653679654, 0.020010031902247573,
    0.05121017216963086, 0.0069056184559087574, 0.22301724757231517, 0.0039615792978177295,
    0.056434210463248966, 0.07302479361302891, 0.01241221397155972, 0.5325058452001528, 0.0714046596839863
  )
), `logOR` = data.frame(
  yi = c(
    -0.9386941408703922, -1.6661907290265496, -1.3862943611198908, -1.4564435493129846,
    -0.21914108567543256, -0.9581220407762674, -1.633775838228896, 0.012020601452732649,
    -0.471746035838696, -1.401210139283481, -0.34084964636621073, 0.44663468227444625, -0.017341873929093587
  ),
  vi = c(
    0.3571249522536287, 0.208132393657186, 0.43341307814992025, 0.020314412973197363, 0.05195177731712027,
    0.00990526551533824, 0.2270096752234936, 0.004006962012148831, 0.05697712398776266, 0.0754217263149204,
    0.012525133820215518, 0.5341621724747171, 0.07163511729565875
  )
), `RD` = data.frame(
  yi = c(
    -0.04661636544422997, -0.07610172781984081, -0.03701298701298701, -0.014714618026393848,
    -0.0015821267065460826, -0.13956764584472833, -0.012754832724785342, 6.788021404894196e-05,
    -0.002316684687178207, -0.029132279132279136, -0.0014842349885014817, 0.0007200976500978654,
    -2.78807421670098e-05
  ),
  vi = c(
    0.000780068664855938, 0.00034846257472658307, 0.0002713997856306846, 1.8028549353363776e-06,
    2.657972482603194e-06, 0.00019833565414980573, 2.6104856229552035e-05, 1.2777444567839109e-07,
    1.3582263060433112e-06, 2.824750370764277e-05, 2.599714691855968e-07, 1.3463933597368239e-06,
    1.8506680125160208e-07
  )
))
f <- function(data) lapply(data, function(d) { r <- metafor::rma(d$yi, d$vi, method = "REML", test = "knha", control = list(threshold = 1e-12, maxiter = 1000)); q <- sqrt(sum((d$yi - r$beta[1])^2/(d$vi + r$tau2))/(r$k - 1)); w <- sqrt(1/sum(1/(d$vi + r$tau2)))
  list(q = r$QE, qP = r$QEp, tau2 = r$tau2, i2 = r$I2, mean = r$beta[1], wald = w, multiplier = q, se = w*max(1, q), half = qt(.975, r$k - 1)*w*max(1, q), prediction = r$beta[1] + c(-1, 1)*qt(.975, r$k - 1)*sqrt(r$tau2 + r$se^2)) })
print(f(data), digits = 17)

# Several winters. The pooled contrast: normal estimates, normal truths, flat mean, half-normal spread. The pooled
# survival: binomial counts (not whole), normal logits, mean ~ N(0, 2.5^2), half-normal spread. Integrals by integrate, Gauss-Legendre panels
# and the trapezium rule.
half <- function(t, s) 2 * dnorm(t, 0, s)
I <- function(f, a, b, tol = 1e-12) integrate(f, a, b, rel.tol = tol, abs.tol = 0, subdivisions = 2000)$value
contrast <- function(y, se, s, floor) {
  part <- function(t) { w <- 1/(se^2 + t^2); m <- sum(w*y)/sum(w); c(m, 1/sum(w), exp(sum(dnorm(y, m, sqrt(1/w), log = TRUE)) - 0.5*log(sum(w)))*half(t, s)) }
  over <- function(g) { f <- Vectorize(function(t) { p <- part(t); p[3]*g(p[1], p[2], t) }); k <- c(0, s/50, s/10, s/3, s, 2*s, 4*s, 8.5*s); sum(sapply(2:length(k), function(i) I(f, k[i - 1], k[i]))) }
  z <- over(function(m, v, t) 1)
  above <- function(c, more) over(function(m, v, t) pnorm(c, m, sqrt(v + more*t^2), lower.tail = FALSE))/z
  q <- function(p, more) uniroot(function(c) above(c, more) - (1 - p), c(min(y) - 12*s - 8*max(se), max(y) + 12*s + 8*max(se)), tol = 1e-12)$root
  list(mean = over(function(m, v, t) m)/z, spread = over(function(m, v, t) t)/z, low = q(.025, 0), high = q(.975, 0), anotherLow = q(.025, 1), anotherHigh = q(.975, 1), meanAbove = above(floor, 0), anotherAbove = above(floor, 1))
}
survival <- function(x, n, s, floor) {
  # each winter by the trapezium rule in z, which is exact to rounding for so smooth and short-tailed a function
  z <- seq(-9.5, 9.5, length.out = 1201); dz <- (z[2] - z[1])*dnorm(z)
  L1 <- function(x, n, m, t) { e <- m + t*z; sum(dz*exp(x*plogis(e, log.p = TRUE) + (n - x)*plogis(-e, log.p = TRUE))) }
  # Gauss-Legendre panels of 20 points for mean and spread, from the eigenvalues of the Jacobi matrix
  gl <- local({ k <- 1:19; b <- k/sqrt(4*k^2 - 1); J <- matrix(0, 20, 20); J[cbind(k, k + 1)] <- b; J[cbind(k + 1, k)] <- b; e <- eigen(J, TRUE); list(x = e$values, w = 2*e$vectors[1, ]^2) })
  nodes <- function(k) list(x = unlist(lapply(2:length(k), function(i) (k[i] + k[i-1])/2 + (k[i] - k[i-1])/2*gl$x)), w = unlist(lapply(2:length(k), function(i) (k[i] - k[i-1])/2*gl$w)))
  tt <- nodes(s*c(0, .3, .8, 1.6, 3, 5, 8)); mm <- nodes(seq(-13, 13, by = 1))
  W <- sapply(seq_along(tt$x), function(j) sapply(seq_along(mm$x), function(i) prod(mapply(L1, x, n, mm$x[i], tt$x[j]))*dnorm(mm$x[i], 0, 2.5)*mm$w[i]*half(tt$x[j], s)*tt$w[j]))
  Z <- sum(W)
  # the mean's distribution function cuts a panel: take the panel apart at the cut
  typ <- function(c) { i <- mm$x < base::floor(c + 13) - 13; base <- sum(W[i, ]); k <- base::floor(c + 13) - 13; if (c - k < 1e-12) return(base/Z); nn <- nodes(c(k, c)); base <- base + sum(sapply(seq_along(tt$x), function(j) sapply(seq_along(nn$x), function(q) prod(mapply(L1, x, n, nn$x[q], tt$x[j]))*dnorm(nn$x[q], 0, 2.5)*nn$w[q]*half(tt$x[j], s)*tt$w[j]))); base/Z }
  # another winter: for each spread the panels of the mean are set about the cut, where the normal steps
  another <- function(c) sum(sapply(seq_along(tt$x), function(j) { t <- tt$x[j]; nn <- nodes(sort(unique(c(seq(-13, 13, by = 1), c + t*seq(-8, 8, by = 1)[abs(c + t*seq(-8, 8, by = 1)) < 13])))); sum(sapply(seq_along(nn$x), function(q) prod(mapply(L1, x, n, nn$x[q], t))*dnorm(nn$x[q], 0, 2.5)*nn$w[q]*pnorm((c - nn$x[q])/t)))*half(t, s)*tt$w[j] }))/Z
  list(spread = sum(t(W)*tt$x)/Z, typicalAbove = sapply(floor, function(f) 1 - typ(qlogis(f))), anotherAbove = sapply(floor, function(f) 1 - another(qlogis(f))))
}
contrasts <- list(two = list(y = c(0.2, 0.6), se = c(0.2, 0.2), s = 0.5, floor = 0), one = list(y = -0.3, se = 0.25, s = 0.5, floor = -0.5),
  five = list(y = c(0.1, -0.4, 0.3, 0.9, 0.2), se = c(0.15, 0.3, 0.2, 0.25, 0.4), s = 0.5, floor = 0.1), exact = list(y = c(1.1, 1.2, 1.15), se = c(0.01, 0.02, 0.01), s = 1, floor = 1.14))
survivals <- list(one = list(x = 10.5, n = 14, s = 1, floor = c(0.5, 0.9)), two = list(x = c(12.5, 6), n = c(16, 14), s = 1, floor = c(0.2, 0.5)), none = list(x = c(0, 1.5), n = c(9.3, 11), s = 1, floor = c(0.02, 0.3)), all = list(x = c(12, 15, 8.2), n = c(12, 15, 10), s = 0.5, floor = c(0.8, 0.95)))
results <- list(contrasts = lapply(contrasts, function(a) c(a, expected = list(do.call(contrast, a)))), survivals = lapply(survivals, function(a) c(a, expected = list(do.call(survival, a)))))
print(results, digits = 15)
