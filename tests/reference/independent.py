# SPDX-License-Identifier: GPL-3.0-or-later
"""The adjustment once more, by other means: the landed vector in coordinates, derivatives by the complex step, numpy's
QR, scipy's distributions. Nothing here is shared with the program but the description of the model."""
import json
import subprocess

import numpy as np
from scipy import optimize, stats

DEFAULTS = {"skew": (0.0, np.pi / 180), "shrink": (0.002, 0.003), "bead": (0.0, 0.2), "foot": (0.0, 0.2),
            "lash": (0.0, 1.0)}
PRINTED = ("outside", "inside", "center", "height")


class Reading:
    def __init__(self, kind, along, nominal, measured=0.0, u=None, approach=None, group=None, instrument=None):
        self.kind, self.along, self.nominal, self.measured = kind, along, float(nominal), float(measured)
        self.u, self.approach, self.group, self.instrument = u, approach, group, instrument

    def line(self):
        """As the probe reads it."""
        words = [self.kind, self.along, repr(self.nominal), repr(self.measured)]
        words += [repr(self.u) if self.u is not None else ".", self.approach or ".", self.group or ".",
                  self.instrument or "."]
        return "row " + " ".join(words)


def vector(along):
    """Unit vector of a direction; None for an axis that is not X, Y or Z."""
    if "@" in along:
        letters, angle = along.split("@")
        v = np.zeros(3)
        v["XYZ".index(letters[0])] += np.cos(np.radians(float(angle)))
        v["XYZ".index(letters[1])] += np.sin(np.radians(float(angle)))
        return v
    if along not in ("X", "Y", "Z") and len(along) == 1:
        return None
    v = np.zeros(3)
    sign = 1
    for letter in along:
        if letter in "+-":
            sign = -1 if letter == "-" else 1
        else:
            v["XYZ".index(letter)] = sign
    return v / np.linalg.norm(v)


def datum_name(reading):
    return f"datum.{reading.along}" + (f".{reading.group}" if reading.group else "")


def landed(values, v):
    get = lambda name: values.get(name, 0.0)
    g, gxz, gyz = get("skew.XY"), get("skew.XZ"), get("skew.YZ")
    i = np.array([1.0, 0, 0], complex)
    j = np.array([-np.sin(g), np.cos(g), 0], complex)
    kx = np.cos(np.pi / 2 + gxz)
    ky = (np.cos(np.pi / 2 + gyz) - kx * j[0]) / j[1]
    k = np.array([kx, ky, np.sqrt(1 - kx * kx - ky * ky)], complex)
    w = v[0] * (1 + get("scale.X")) * i + v[1] * (1 + get("scale.Y")) * j + v[2] * (1 + get("scale.Z")) * k
    return np.sqrt(np.sum(w * w))  # no conjugate: analytic, for the complex step


def predicted(values, reading):
    c = vector(reading.along)
    get = lambda name: values.get(name, 0.0)
    lash = get(f"lash.{reading.along}")
    if reading.kind == "reversal":
        return lash
    if reading.kind == "position":
        side = {"+": 1, "-": -1}.get(reading.approach, 0)
        return get(datum_name(reading)) + (1 + get(f"scale.{reading.along}")) * reading.nominal - side * lash / 2
    if c is None:
        length = (1 + get(f"scale.{reading.along}")) * reading.nominal
    else:
        length = landed(values, c * reading.nominal)
    if reading.kind == "travel":
        return length - (lash if reading.approach == "reversed" else 0)
    shrunk = length * (1 - get("shrink"))
    if reading.kind == "height":
        return shrunk + get("foot")
    faces = {"outside": 1, "inside": -1, "center": 0}[reading.kind]
    return shrunk + faces * 2 * get("bead") * (abs(c[0]) + abs(c[1]))


def touched(r):
    names = set()
    c = vector(r.along)
    letters = [r.along] if c is None else ["XYZ"[n] for n in range(3) if c[n] != 0]
    if r.kind == "reversal":
        return [f"lash.{r.along}"]
    names.update(f"scale.{letter}" for letter in letters)
    names.update(f"skew.{a}{b}" for a, b in ("XY", "XZ", "YZ") if a in letters and b in letters)
    if r.kind in PRINTED:
        names.add("shrink")
    if r.kind in ("outside", "inside") and (c[0] != 0 or c[1] != 0):
        names.add("bead")
    if r.kind == "height":
        names.add("foot")
    if r.approach and r.kind in ("travel", "position") and (r.kind == "position" or r.approach == "reversed"):
        names.add(f"lash.{r.along}")
    if r.kind == "position":
        names.add(datum_name(r))
    return sorted(names)


def unknowns(readings):
    names = set()
    for r in readings:
        r.touched = touched(r)
        names.update(r.touched)
    return sorted(names)


class Solution:
    """Least squares of whitened rows; see solve()."""


def whitened(readings, us, observations, names, fixed, x):
    """Residuals and their Jacobian (of the predictions) at @x, readings first, then the stated observations."""
    values = {**fixed, **dict(zip(names, x))}
    residuals = np.array([(r.measured - predicted(values, r).real) / u for r, u in zip(readings, us)])
    jacobian = np.zeros((len(readings), len(names)))
    for row, (r, u) in enumerate(zip(readings, us)):
        for name in r.touched:
            if name in names:
                stepped = {**values, name: values[name] + 1e-40j}
                jacobian[row, names.index(name)] = predicted(stepped, r).imag / 1e-40 / u
    rows = [((value - values[name]) / u, names.index(name), 1 / u) for name, (value, u) in observations.items()]
    extra = np.zeros((len(rows), len(names)))
    for row, (_, column, weight) in enumerate(rows):
        extra[row, column] = weight
    return np.concatenate([residuals, [row[0] for row in rows]]), np.vstack([jacobian, extra])


def least_squares(readings, us, observations, names, fixed):
    x = np.array([observations.get(name, (0.0, 1.0))[0] for name in names])
    for _ in range(60):
        residuals, jacobian = whitened(readings, us, observations, names, fixed, x)
        scale = np.linalg.norm(jacobian, axis=0)
        q, r = np.linalg.qr(jacobian / scale)
        step = np.linalg.solve(r, q.T @ residuals) / scale
        x = x + step
        if np.linalg.norm(jacobian @ step) < 1e-13 * (1 + np.linalg.norm([m.measured / u for m, u in zip(readings, us)])):
            break
    residuals, jacobian = whitened(readings, us, observations, names, fixed, x)
    scale = np.linalg.norm(jacobian, axis=0)
    _, r = np.linalg.qr(jacobian / scale)
    half = np.linalg.solve(r, np.eye(len(names))) / scale[:, None]
    out = Solution()
    out.x, out.residuals, out.jacobian, out.covariance = x, residuals, jacobian, half @ half.T
    return out


def deleted_residuals(solution, n):
    """Externally studentized residuals of the first @n rows, by really leaving each out (the model taken as linear at the
    solution)."""
    out = []
    for i in range(n):
        keep = np.arange(len(solution.residuals)) != i
        a, b = solution.jacobian[keep], solution.residuals[keep]
        row = solution.jacobian[i]
        freedom = len(b) - a.shape[1]
        if freedom < 1 or np.linalg.matrix_rank(a / np.linalg.norm(solution.jacobian, axis=0)) < a.shape[1]:
            out.append(0.0)
            continue
        scale = np.linalg.norm(solution.jacobian, axis=0)
        q, r = np.linalg.qr(a / scale)
        step = np.linalg.solve(r, q.T @ b)
        rest = b - a / scale @ step
        spread = np.linalg.norm(np.linalg.solve(r.T, row / scale))
        s = np.sqrt(rest @ rest / freedom)
        out.append((solution.residuals[i] - row / scale @ step) / (s * np.sqrt(1 + spread ** 2)))
    return np.array(out)


def solve(readings, scatter="stated", stated=None, instruments=None):
    stated, instruments = stated or {}, instruments or {}
    names = unknowns(readings)
    observations = {}
    for name in names:
        if scatter == "stated" and name.split(".")[0] in DEFAULTS:
            observations[name] = DEFAULTS[name.split(".")[0]]
        if name in stated:
            observations[name] = stated[name]
    fixed = {name: value for name, (value, u) in observations.items() if u == 0}
    observations = {name: both for name, both in observations.items() if name not in fixed}
    free = [name for name in names if name not in fixed]

    n = len(readings)
    if scatter == "stated":
        us = [r.u if r.u is not None else instruments.get(r.instrument, 0.05) for r in readings]
        s = least_squares(readings, us, observations, free, fixed)
        s.dof = n + len(observations) - len(free)
        s.chi2 = float(s.residuals @ s.residuals)
        s.p_value = float(stats.chi2.sf(s.chi2, s.dof)) if s.dof > 0 else None
        s.birge = np.sqrt(s.chi2 / s.dof) if s.dof > 0 and s.p_value < 0.05 else 1.0
        spread, s.factor = s.birge, stats.norm.ppf(0.975) if s.birge == 1.0 else stats.t.ppf(0.975, s.dof)
        freedom = s.dof
        s.sigma = None
    else:
        us = [r.u for r in readings] if all(r.u is not None for r in readings) else [1.0] * n

        def balance(log_sigma):
            # Everything in units of sigma: its readings' share of the squares must be their share of the freedom
            sigma = np.exp(log_sigma)
            fit = least_squares(readings, [u * sigma for u in us], observations, free, fixed)
            rows = fit.jacobian[:n]
            fit.freedom = n - np.trace(rows @ fit.covariance @ rows.T)
            fit.sigma = sigma
            return fit, float(fit.residuals[:n] @ fit.residuals[:n]) - fit.freedom

        if observations:
            start, _ = balance(0.0)
            low = high = np.log(np.std([start.residuals[i] for i in range(n)]) + 1e-6)
            while balance(low)[1] < 0:
                low -= 1
            while balance(high)[1] > 0:
                high += 1
            s, _ = balance(optimize.brentq(lambda v: balance(v)[1], low, high, xtol=1e-15, rtol=1e-15, maxiter=500))
        else:
            s, _ = balance(0.0)
            s.freedom = n - len(free)
            sigma = np.sqrt(float(s.residuals @ s.residuals) / s.freedom)
            s.covariance, s.sigma = s.covariance * sigma ** 2, sigma
            s.residuals, s.jacobian = s.residuals / sigma, s.jacobian / sigma
        s.dof = n + len(observations) - len(free)
        s.chi2 = float(s.residuals[:n] @ s.residuals[:n]) * s.sigma ** 2
        s.p_value, s.birge = None, 1.0
        spread, s.factor = 1.0, stats.t.ppf(0.975, s.freedom)
        freedom = s.freedom

    s.leverage = np.einsum("ij,jk,ik->i", s.jacobian[:n], s.covariance, s.jacobian[:n])
    s.standardized = s.residuals[:n] / np.sqrt(np.maximum(1 - s.leverage, 1e-12)) / spread
    s.covariance = s.covariance * spread ** 2
    s.values = {**fixed, **dict(zip(free, s.x))}
    s.u = {**{name: 0.0 for name in fixed}, **dict(zip(free, np.sqrt(np.diag(s.covariance))))}
    s.freedom = freedom
    return s


def probe_text(readings, scatter="stated", stated=None, instruments=None, robust=False, axes="XYZEA", candidates=()):
    lines = [f"axes {axes}", f"scatter {scatter}"]
    lines += [f"stated {name} {value!r} {u!r}" for name, (value, u) in (stated or {}).items()]
    lines += [f"instrument {name} {u!r}" for name, u in (instruments or {}).items()]
    lines += ["robust"] if robust else []
    rows = [r.line() for r in readings] + [r.line().replace("row", "candidate", 1) for r in candidates]
    return "\n".join(lines + rows + ["fit", ""])


def probe(path, text):
    done = subprocess.run([path], input=text, capture_output=True, text=True, check=True, timeout=300)
    return [json.loads(line) for line in done.stdout.splitlines()]
