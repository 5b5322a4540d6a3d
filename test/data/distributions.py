# Makes distributions.csv: python3 distributions.py > distributions.csv
# mpmath 1.3.0 (40 digits) gives each value; SciPy 1.17.1 (Python 3.11.7) must agree, or nothing is printed.
import sys

import mpmath as mp
from scipy import special, stats

mp.mp.dps = 40
rows = []


def add(name, arguments, value, scipy_value, agree=1e-10):
    value, scipy_value = float(value), float(scipy_value)
    if abs(value) > 1e-290 and abs(scipy_value - value) > agree * abs(value):
        sys.exit(f'{name} {arguments}: mpmath {value!r}, SciPy {scipy_value!r}')
    rows.append(','.join([name, *(repr(a) for a in arguments), *[''] * (3 - len(arguments)), repr(value)]))


def gamma_below(a, x):
    with mp.workdps(60):
        a, x = mp.mpf(a), mp.mpf(x)
        term = total = 1 / a
        k = 0
        while term > total * mp.mpf(10) ** -58:
            k += 1
            term *= x / (a + k)
            total += term
        return mp.exp(a * mp.log(x) - x - mp.loggamma(a)) * total


def gamma_above(a, x):
    with mp.workdps(60):
        below = gamma_below(a, x)
        if below < mp.mpf('0.999'):
            return 1 - below
        a, x = mp.mpf(a), mp.mpf(x)
        f = mp.mpf(0)
        for k in range(4000, 0, -1):
            f = k * (a - k) / (x + 2 * k + 1 - a + f)
        return mp.exp(a * mp.log(x) - x - mp.loggamma(a)) / (x + 1 - a + f)


def t_cdf(t, n):
    t, n = mp.mpf(t), mp.mpf(n)
    half = mp.betainc(n / 2, mp.mpf(1) / 2, 0, n / (n + t * t), regularized=True) / 2
    return half if t < 0 else 1 - half


def ig_cdf(x, mean, shape):
    x, mean, shape = mp.mpf(x), mp.mpf(mean), mp.mpf(shape)
    root = mp.sqrt(shape / x)
    return mp.ncdf(root * (x / mean - 1)) + mp.exp(2 * shape / mean) * mp.ncdf(-root * (x / mean + 1))


def root_near(f, start):
    start = mp.mpf(float(start))
    return mp.findroot(f, (start * (1 - mp.mpf('1e-9')), start * (1 + mp.mpf('1e-9'))), tol=1e-25, verify=False)


for z in [-37.5, -20.0, -8.5, -5.7, -5.6, -3.0, -1.5, -0.7, -0.67, -0.1, 0.0, 0.3, 1.0, 2.5, 6.0]:
    add('normal.cdf', [z], mp.ncdf(mp.mpf(z)), stats.norm.cdf(z))
for p in [1e-300, 1e-100, 1e-20, 1e-12, 1e-11, 1e-5, 0.001, 0.02425, 0.074, 0.076, 0.3, 0.49, 0.51, 0.8, 0.975, 0.999999]:
    add('normal.quantile', [p], root_near(lambda x: mp.ncdf(x) / mp.mpf(p) - 1, stats.norm.ppf(p)), stats.norm.ppf(p))
for n in [0.5, 1.0, 2.0, 2.7, 5.0, 8.25, 30.0, 200.0, 100000.0]:
    for t in [-50.0, -10.0, -3.0, -1.75, -1.2, -0.01, 0.5, 1.5, 4.0]:
        add('t.cdf', [t, n], t_cdf(t, n), stats.t.cdf(t, n))
    for p in [1e-12, 1e-4, 0.005, 0.1, 0.24, 0.26, 0.49, 0.6, 0.9, 0.975, 0.9999]:
        add('t.quantile', [p, n], root_near(lambda x: t_cdf(x, n) / mp.mpf(p) - 1, stats.t.ppf(p, n)), stats.t.ppf(p, n))
for a in [0.01, 0.3, 1.0, 2.5, 7.0, 40.0, 300.0, 5000.0, 100000.0]:
    for ratio in [0.01, 0.3, 0.8, 0.97, 1.0, 1.02, 1.3, 3.0]:
        x = a * ratio
        add('gamma.below', [a, x], gamma_below(a, x), special.gammainc(a, x), 1e-9)
        add('gamma.above', [a, x], gamma_above(a, x), special.gammaincc(a, x), 1e-9)
    add('gamma.log', [a], mp.loggamma(mp.mpf(a)), special.gammaln(a))
for a in [0.05, 0.3, 1.0, 2.5, 7.0, 40.0, 300.0, 5000.0]:
    for p in [1e-10, 1e-4, 0.01, 0.2, 0.5, 0.8, 0.99, 0.9999]:
        start = special.gammaincinv(a, p)
        add('gamma.quantile', [p, a], root_near(lambda x: gamma_below(a, x) / mp.mpf(p) - 1, start), start)
for mean, shape in [(1.0, 1.0), (10.0, 100.0), (10.0, 2.0), (3.0, 5000.0), (0.02, 0.1)]:
    for ratio in [0.05, 0.4, 0.9, 1.0, 1.1, 2.5, 8.0]:
        x = mean * ratio
        add('inverseGaussian.cdf', [x, mean, shape], ig_cdf(x, mean, shape), stats.invgauss.cdf(x, mean / shape, scale=shape))
    for p in [1e-6, 0.01, 0.3, 0.5, 0.9, 0.9999]:
        start = stats.invgauss.ppf(p, mean / shape, scale=shape)
        value = root_near(lambda x: ig_cdf(x, mean, shape) / mp.mpf(p) - 1, start)
        add('inverseGaussian.quantile', [p, mean, shape], value, start, 1e-8)
for shape, scale in [(0.7, 100.0), (1.0, 3.0), (1.72, 606.5), (4.0, 12000.0)]:
    for x in [0.001 * scale, 0.3 * scale, scale, 2.0 * scale]:
        value = -mp.expm1(-((mp.mpf(x) / mp.mpf(scale)) ** mp.mpf(shape)))
        add('weibull.cdf', [x, shape, scale], value, stats.weibull_min.cdf(x, shape, scale=scale))
    for p in [1e-9, 0.1, 0.5, 0.99]:
        value = mp.mpf(scale) * (-mp.log1p(-mp.mpf(p))) ** (1 / mp.mpf(shape))
        add('weibull.quantile', [p, shape, scale], value, stats.weibull_min.ppf(p, shape, scale=scale))

print('function,first,second,third,value')
print('\n'.join(rows))
