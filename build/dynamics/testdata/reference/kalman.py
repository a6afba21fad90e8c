# Makes uneven_vectors.csv: Python 3.11 with statsmodels 0.13.5, numpy 1.24.2 and scipy 1.10.1 (Debian 12). Run it in this folder.
# The Kalman filter is statsmodels'; what passes between two counts comes of the differential equation by matrix exponentials
# (Van Loan 1978, IEEE Trans. Automat. Contr. 23:395-404), not of the formula that is tested.
import csv
import numpy as np
from scipy.linalg import expm
from statsmodels.tsa.statespace.kalman_filter import KalmanFilter

def step(days, q, s):
    a, noise = np.array([[0., 1.], [0., 0.]]), np.diag([q * q, s * s])
    e = expm(np.block([[-a, noise], [np.zeros((2, 2)), a.T]]) * days)
    f = e[2:, 2:].T
    return f, f @ e[:2, 2:]

def run(t, y, m, q, s):
    # the first value sets the size; the rest are foretold from it
    steps = [step(b - a, q, s) for a, b in zip(t, t[1:])]
    x, p = np.array([y[0], 0.04]), np.diag([m * m, 0.15 ** 2])
    f, n = steps[0]
    k = KalmanFilter(k_endog=1, k_states=2, loglikelihood_burn=0)
    k.bind(np.array(y[1:], dtype=float))
    k['design'], k['obs_cov'], k['selection'] = [[1., 0.]], [[m * m]], np.eye(2)
    after = steps[1:] + [(np.eye(2), np.zeros((2, 2)))]
    k['transition'] = np.stack([a for a, _ in after], axis=2)
    k['state_cov'] = np.stack([b for _, b in after], axis=2)
    k.initialize_known(f @ x, f @ p @ f.T + n)
    r = k.filter()
    end, var = r.filtered_state[:, -1], r.filtered_state_cov[:, :, -1]
    return [('log likelihood of the values after the first', r.llf), ('ln size at the end', end[0]), ('rate at the end', end[1]),
            ('variance of ln size', var[0, 0]), ('covariance', var[0, 1]), ('variance of the rate', var[1, 1])]

def read(name, x, y, keep=lambda r: True):
    with open('datasets/' + name + '.csv') as f:
        rows = [r for r in csv.DictReader(f) if keep(r)]
    return [float(r[x]) for r in rows], [float(r[y]) for r in rows]

ashby = 'Ashby & Oxley 1935 Ann. Bot. 49:309-336, via R package isdals 3.0.1'
crowder = 'Crowder & Hand 1990, Analysis of Repeated Measures, example 5.3, via R 4.2.2 ChickWeight'
sets = [('duckweed, days 0 1 4 5 9 13', read('duckweed', 'days', 'leaves', lambda r: r['days'] in '0 1 4 5 9 13'.split()), ashby)]
sets += [('chick ' + c + ', all days', read('chickweight_1to5', 'Time', 'weight', lambda r, c=c: r['Chick'] == c), crowder) for c in '13']
with open('uneven_vectors.csv', 'w', newline='') as f:
    out = csv.writer(f, lineterminator='\n')
    out.writerow('id quantity inputs expected tolerance source'.split())
    i = 0
    for name, (t, w), source in sets:
        for m, q, s in [(0.08, 0.015, 0), (0.08, 0.015, 0.001), (0.05, 0.02, 0.004), (0.2, 0.003, 0.001)]:
            for what, v in run(t, np.log(w), m, q, s):
                i += 1
                out.writerow([f'U{i:02d}', what, f'{name}; m={m}; q={q}; s={s}; first value sets the size; r prior 0.04 sd 0.15', f'{v:.10g}', f'{1e-9 * max(1e-6, abs(v)):.1g}', source])
