export interface Source {
  author: string;
  year: number;
  title: string;
  /** Journal with volume and pages, or publisher. */
  where: string;
  doi: string | null;
}

/** Where each method comes from, by the short key that docstrings and findings name. */
export const sources = {
  "wilson-1927": {
    author: "E. B. Wilson",
    year: 1927,
    title: "Probable inference, the law of succession, and statistical inference",
    where: "Journal of the American Statistical Association 22:209–212",
    doi: "10.1080/01621459.1927.10502953",
  },
  "newcombe-1998-single": {
    author: "R. G. Newcombe",
    year: 1998,
    title: "Two-sided confidence intervals for the single proportion: comparison of seven methods",
    where: "Statistics in Medicine 17:857–872",
    doi: "10.1002/(SICI)1097-0258(19980430)17:8<857::AID-SIM777>3.0.CO;2-E",
  },
  "newcombe-1998-difference": {
    author: "R. G. Newcombe",
    year: 1998,
    title:
      "Interval estimation for the difference between independent proportions: comparison of eleven methods",
    where: "Statistics in Medicine 17:873–890",
    doi: "10.1002/(SICI)1097-0258(19980430)17:8<873::AID-SIM779>3.0.CO;2-I",
  },
  "clopper-pearson-1934": {
    author: "C. J. Clopper, E. S. Pearson",
    year: 1934,
    title: "The use of confidence or fiducial limits illustrated in the case of the binomial",
    where: "Biometrika 26:404–413",
    doi: "10.1093/biomet/26.4.404",
  },
  "brown-cai-dasgupta-2001": {
    author: "L. D. Brown, T. T. Cai, A. DasGupta",
    year: 2001,
    title: "Interval estimation for a binomial proportion",
    where: "Statistical Science 16:101–133",
    doi: "10.1214/ss/1009213286",
  },
  "agresti-coull-1998": {
    author: "A. Agresti, B. A. Coull",
    year: 1998,
    title: "Approximate is better than “exact” for interval estimation of binomial proportions",
    where: "The American Statistician 52:119–126",
    doi: "10.1080/00031305.1998.10480550",
  },
  "franco-2019": {
    author: "C. Franco, R. J. A. Little, T. A. Louis, E. V. Slud",
    year: 2019,
    title: "Comparative study of confidence intervals for proportions in complex sample surveys",
    where: "Journal of Survey Statistics and Methodology 7:334–364",
    doi: "10.1093/jssam/smy019",
  },
  "zou-donner-2008": {
    author: "G. Y. Zou, A. Donner",
    year: 2008,
    title: "Construction of confidence limits about effect measures: a general approach",
    where: "Statistics in Medicine 27:1693–1702",
    doi: "10.1002/sim.3095",
  },
  "miettinen-nurminen-1985": {
    author: "O. Miettinen, M. Nurminen",
    year: 1985,
    title: "Comparative analysis of two rates",
    where: "Statistics in Medicine 4:213–226",
    doi: "10.1002/sim.4780040211",
  },
  "fisher-1962": {
    author: "R. A. Fisher",
    year: 1962,
    title: "Confidence limits for a cross-product ratio",
    where: "Australian Journal of Statistics 4:41",
    doi: "10.1111/j.1467-842X.1962.tb00285.x",
  },
  "mantel-haenszel-1959": {
    author: "N. Mantel, W. Haenszel",
    year: 1959,
    title: "Statistical aspects of the analysis of data from retrospective studies of disease",
    where: "Journal of the National Cancer Institute 22:719–748",
    doi: "10.1093/jnci/22.4.719",
  },
  "robins-1986": {
    author: "J. Robins, N. Breslow, S. Greenland",
    year: 1986,
    title:
      "Estimators of the Mantel–Haenszel variance consistent in both sparse data and large-strata limiting models",
    where: "Biometrics 42:311–323",
    doi: "10.2307/2531052",
  },
  "sato-1989": {
    author: "T. Sato",
    year: 1989,
    title: "On the variance estimator for the Mantel–Haenszel risk difference",
    where: "Biometrics 45:1323–1324",
    doi: null,
  },
  "westfall-young-1993": {
    author: "P. H. Westfall, S. S. Young",
    year: 1993,
    title: "Resampling-Based Multiple Testing",
    where: "Wiley, New York",
    doi: null,
  },
  "phipson-smyth-2010": {
    author: "B. Phipson, G. K. Smyth",
    year: 2010,
    title:
      "Permutation p-values should never be zero: calculating exact p-values when permutations are randomly drawn",
    where: "Statistical Applications in Genetics and Molecular Biology 9:39",
    doi: "10.2202/1544-6115.1585",
  },
  "fisher-1935": {
    author: "R. A. Fisher",
    year: 1935,
    title: "The Design of Experiments",
    where: "Oliver and Boyd, Edinburgh",
    doi: null,
  },
  "hurlbert-1984": {
    author: "S. H. Hurlbert",
    year: 1984,
    title: "Pseudoreplication and the design of ecological field experiments",
    where: "Ecological Monographs 54:187–211",
    doi: "10.2307/1942661",
  },
  "hanley-lippman-hand-1983": {
    author: "J. A. Hanley, A. Lippman-Hand",
    year: 1983,
    title: "If nothing goes wrong, is everything all right? Interpreting zero numerators",
    where: "Journal of the American Medical Association 249:1743–1745",
    doi: "10.1001/jama.1983.03330370053031",
  },
  "donner-1986": {
    author: "A. Donner",
    year: 1986,
    title:
      "A review of inference procedures for the intraclass correlation coefficient in the one-way random effects model",
    where: "International Statistical Review 54:67–82",
    doi: "10.2307/1403259",
  },
  "golub-van-loan-2013": {
    author: "G. H. Golub, C. F. Van Loan",
    year: 2013,
    title: "Matrix Computations, 4th edition",
    where: "Johns Hopkins University Press, Baltimore",
    doi: null,
  },
  "simon-lesage-1989": {
    author: "S. D. Simon, J. P. Lesage",
    year: 1989,
    title: "Assessing the accuracy of ANOVA calculations in statistical software",
    where: "Computational Statistics and Data Analysis 8:325–332",
    doi: "10.1016/0167-9473(89)90048-4",
  },
  "searle-1971": {
    author: "S. R. Searle",
    year: 1971,
    title: "Linear Models",
    where: "Wiley, New York",
    doi: null,
  },
  "searle-1980": {
    author: "S. R. Searle, F. M. Speed, G. A. Milliken",
    year: 1980,
    title: "Population marginal means in the linear model: an alternative to least squares means",
    where: "The American Statistician 34:216–221",
    doi: "10.1080/00031305.1980.10483031",
  },
  "tukey-1949": {
    author: "J. W. Tukey",
    year: 1949,
    title: "One degree of freedom for non-additivity",
    where: "Biometrics 5:232–242",
    doi: "10.2307/3001938",
  },
  "kramer-1956": {
    author: "C. Y. Kramer",
    year: 1956,
    title: "Extension of multiple range tests to group means with unequal numbers of replications",
    where: "Biometrics 12:307–310",
    doi: "10.2307/3001469",
  },
  "dunnett-1955": {
    author: "C. W. Dunnett",
    year: 1955,
    title: "A multiple comparison procedure for comparing several treatments with a control",
    where: "Journal of the American Statistical Association 50:1096–1121",
    doi: "10.1080/01621459.1955.10501294",
  },
  "hsu-1996": {
    author: "J. C. Hsu",
    year: 1996,
    title: "Multiple Comparisons: Theory and Methods",
    where: "Chapman & Hall, London",
    doi: null,
  },
  "genz-bretz-2009": {
    author: "A. Genz, F. Bretz",
    year: 2009,
    title: "Computation of Multivariate Normal and t Probabilities",
    where: "Springer, Berlin (Lecture Notes in Statistics 195)",
    doi: "10.1007/978-3-642-01689-9",
  },
  "holm-1979": {
    author: "S. Holm",
    year: 1979,
    title: "A simple sequentially rejective multiple test procedure",
    where: "Scandinavian Journal of Statistics 6:65–70",
    doi: null,
  },
  "fieller-1954": {
    author: "E. C. Fieller",
    year: 1954,
    title: "Some problems in interval estimation",
    where: "Journal of the Royal Statistical Society B 16:175–185",
    doi: "10.1111/j.2517-6161.1954.tb00159.x",
  },
  "welch-1951": {
    author: "B. L. Welch",
    year: 1951,
    title: "On the comparison of several mean values: an alternative approach",
    where: "Biometrika 38:330–336",
    doi: "10.1093/biomet/38.3-4.330",
  },
  "brown-forsythe-1974": {
    author: "M. B. Brown, A. B. Forsythe",
    year: 1974,
    title: "Robust tests for the equality of variances",
    where: "Journal of the American Statistical Association 69:364–367",
    doi: "10.1080/01621459.1974.10482955",
  },
  "kruskal-wallis-1952": {
    author: "W. H. Kruskal, W. A. Wallis",
    year: 1952,
    title: "Use of ranks in one-criterion variance analysis",
    where: "Journal of the American Statistical Association 47:583–621",
    doi: "10.1080/01621459.1952.10483441",
  },
  "kempthorne-1952": {
    author: "O. Kempthorne",
    year: 1952,
    title: "The Design and Analysis of Experiments",
    where: "Wiley, New York",
    doi: null,
  },
  "kenward-roger-1997": {
    author: "M. G. Kenward, J. H. Roger",
    year: 1997,
    title: "Small sample inference for fixed effects from restricted maximum likelihood",
    where: "Biometrics 53:983–997",
    doi: "10.2307/2533558",
  },
  "patterson-thompson-1971": {
    author: "H. D. Patterson, R. Thompson",
    year: 1971,
    title: "Recovery of inter-block information when block sizes are unequal",
    where: "Biometrika 58:545–554",
    doi: "10.1093/biomet/58.3.545",
  },
  "gilmour-1995": {
    author: "A. R. Gilmour, R. Thompson, B. R. Cullis",
    year: 1995,
    title:
      "Average information REML: an efficient algorithm for variance parameter estimation in linear mixed models",
    where: "Biometrics 51:1440–1450",
    doi: "10.2307/2533274",
  },
  "fai-cornelius-1996": {
    author: "A. H.-T. Fai, P. L. Cornelius",
    year: 1996,
    title:
      "Approximate F-tests of multiple degree of freedom hypotheses in generalized least squares analyses of unbalanced split-plot experiments",
    where: "Journal of Statistical Computation and Simulation 54:363–378",
    doi: "10.1080/00949659608811740",
  },
  "henderson-1975": {
    author: "C. R. Henderson",
    year: 1975,
    title: "Best linear unbiased estimation and prediction under a selection model",
    where: "Biometrics 31:423–447",
    doi: "10.2307/2529430",
  },
  "cochran-cox-1957": {
    author: "W. G. Cochran, G. M. Cox",
    year: 1957,
    title: "Experimental Designs, 2nd edition",
    where: "Wiley, New York",
    doi: null,
  },
  "satterthwaite-1946": {
    author: "F. E. Satterthwaite",
    year: 1946,
    title: "An approximate distribution of estimates of variance components",
    where: "Biometrics Bulletin 2:110–114",
    doi: "10.2307/3002019",
  },
} satisfies Record<string, Source>;

export type SourceKey = keyof typeof sources;
