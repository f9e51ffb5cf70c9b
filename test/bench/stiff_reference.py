"""The coupled ladder of same-equations.ts with SciPy's stiff solver.

Reads {"system": ..., "tolerances": [...]} on standard input; writes for each tolerance the CPU seconds, the
evaluations of the right-hand side and the sense voltage at every output sample as JSON. State and units as in
equation-rates.ts: volts, amperes, phi/phi_r, time in nanoseconds.
"""

import json
import math
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp
from scipy.linalg import solve_banded

NS = 1e-9
STILL = 1e-8


class Rates:
    def __init__(self, system):
        array = lambda name: np.array(system[name], dtype=float)
        self.n = system["sections"]
        self.tau = system["lossTime"]
        for name in ("resistance", "inductance", "conductance", "injection"):
            setattr(self, name, array(name))
        off = array("capacitanceOff")
        self.band = np.vstack(
            [np.concatenate([[0], off]), array("capacitance"), np.concatenate([off, [0]])]
        )
        self.air = array("air")
        self.c = {name: np.array(values, dtype=float) for name, values in system["classes"].items()}
        self.section = self.c["section"].astype(int)
        c = self.c
        self.factors = np.vstack([c["factorX"], c["factorY"], c["factorInhibit"]])
        self.rest = np.log1p(np.exp(-c["threshold"] / c["softWidth"]))
        self.quiet = np.maximum(
            0, c["threshold"] + c["softWidth"] * np.log(STILL / (c["rho"] * c["softWidth"]))
        )
        self.time = np.array(system["drive"]["time"])
        self.currents = np.array(system["drive"]["currents"])
        self.at_flux = 2 * self.n + 1
        self.at_lag = self.at_flux + len(self.section)
        self.size = self.at_lag + 3
        self.warm = np.zeros(self.n)
        self.span = 0

    def start(self):
        y = np.zeros(self.size)
        y[self.at_flux : self.at_lag] = self.c["phi0"] / self.c["phiR"]
        return y

    def per_section(self, values):
        return np.bincount(self.section, weights=values, minlength=self.n)

    def move(self, force, phi):
        """dphi/dt of every class and its derivative by F."""
        c = self.c
        sign = np.where(force < 0, -1.0, 1.0)
        f = sign * force
        phi_d = c["phiR"] * (2 / (1 + np.exp((c["coercive"] - f) / c["kneeWidth"])) - 1)
        p = sign * phi
        width = c["phiS"] + phi_d
        moving = (f >= self.quiet) & (p < phi_d) & (width > 0)
        if not moving.any():
            return np.zeros_like(f), np.zeros_like(f)
        width = np.where(moving, width, 1)
        u = (2 * p + c["phiS"] - phi_d) / width
        moving &= u > -1
        z = (f - c["threshold"]) / c["softWidth"]
        v_p = c["rho"] * c["softWidth"] * (np.logaddexp(0, z) - self.rest)
        v_p_slope = c["rho"] / (1 + np.exp(-z))
        phi_d_slope = (c["phiR"] ** 2 - phi_d**2) / (2 * c["phiR"] * c["kneeWidth"])
        rate = sign * v_p * (1 - u * u)
        slope = v_p_slope * (1 - u * u) + 2 * u * v_p * phi_d_slope * (1 + u) / width
        return np.where(moving, rate, 0), np.where(moving, slope, 0)

    def __call__(self, t, y):
        n, tau, c = self.n, self.tau, self.c
        t0, t1 = self.time[self.span], self.time[self.span + 1]
        slope = (self.currents[:, self.span + 1] - self.currents[:, self.span]) / (t1 - t0)
        now = self.currents[:, self.span] + slope * (t * NS - t0)
        lag = y[self.at_lag :] if tau > 0 else now
        lag_slope = (now - lag) / tau if tau > 0 else slope
        v = y[: n + 1]
        l = y[n + 1 : self.at_flux]
        phi = y[self.at_flux : self.at_lag] * c["phiR"]

        force = self.factors.T @ lag + c["polarity"] * l[self.section] + c["bias"]
        root = np.sqrt(force * force + c["bend"] ** 2)
        softer = c["elasticA"] - c["elasticB"] * phi * force / root
        left = 1 - c["elasticB"] * (root - c["bend"])
        own = self.inductance + self.resistance * tau + self.per_section(c["count"] * softer)
        drop = v[:-1] - v[1:] - self.resistance * l - self.air.T @ lag_slope
        drop = drop - self.per_section(
            c["count"] * c["polarity"] * softer * (self.factors.T @ lag_slope)
        )
        bare = self.factors.T @ now + c["bias"]
        z = self.warm.copy()
        for _ in range(20):
            rate, rate_slope = self.move(bare + c["polarity"] * (l + tau * z)[self.section], phi)
            miss = own * z - drop + self.per_section(c["count"] * c["polarity"] * left * rate)
            step = miss / (own + tau * self.per_section(c["count"] * left * rate_slope))
            z = z - step
            if np.max(np.abs(step) * own) < 1e-9:
                break
        self.warm = z
        current = l + tau * z
        into = np.zeros(n + 1)
        into[1:] += current
        into[:-1] -= current
        into += self.injection * now[2] - self.conductance * v
        out = np.empty(self.size)
        out[: n + 1] = solve_banded((1, 1), self.band, into)
        out[n + 1 : self.at_flux] = z
        out[self.at_flux : self.at_lag] = rate / c["phiR"]
        out[self.at_lag :] = lag_slope if tau > 0 else 0
        return out * NS


def solve(system, tolerance):
    rates = Rates(system)
    step = system["output"] / NS
    samples = math.floor(system["period"] / system["output"] + 1e-9) + 1
    u = np.zeros(samples)
    y = rates.start()
    evaluations = 0
    began = time.process_time()
    for span in range(len(rates.time) - 1):
        rates.span = span
        begin, end = rates.time[span] / NS, rates.time[span + 1] / NS
        if end <= begin:
            continue
        wanted = np.arange(math.floor(begin / step + 1e-9) + 1, math.floor(end / step + 1e-9) + 1)
        wanted = wanted[wanted < samples]
        at = np.clip(wanted * step, begin, end)
        if len(at) == 0 or at[-1] < end:
            at = np.append(at, end)
        found = solve_ivp(
            rates, (begin, end), y, method="LSODA", rtol=tolerance, atol=tolerance * 1e-2, t_eval=at
        )
        if not found.success:
            raise RuntimeError(found.message)
        u[wanted] = found.y[rates.n, : len(wanted)] - found.y[0, : len(wanted)]
        y = found.y[:, -1]
        evaluations += found.nfev
    return {
        "tolerance": tolerance,
        "seconds": time.process_time() - began,
        "evaluations": int(evaluations),
        "u": u.tolist(),
    }


request = json.load(sys.stdin)
json.dump([solve(request["system"], tolerance) for tolerance in request["tolerances"]], sys.stdout)
