# Makes sobol-points.csv: python3 sobol-points.py > sobol-points.csv
# SciPy 1.17.1 (its own copy of new-joe-kuo-6.21201), unscrambled, 64 dimensions: index, then 1,024 times each coordinate.
from scipy.stats import qmc

points = qmc.Sobol(64, scramble=False, bits=30).random(1024)
for index in [*range(32), *range(500, 516), *range(1008, 1024)]:
    print(','.join([str(index), *(str(int(value * 1024)) for value in points[index])]))
