#!/usr/bin/env python3
"""Carries out an exported run again, independently of Airpath's own solver.

    integrate.py EXPORT.json EVERY [RTOL]     writes JSON: the gauges' rooms every so many seconds, and the events

Written from README.md of this folder alone. State: kilograms in every room and, in thermal ones, the energy E = p V beside
them. Integrator: scipy's BDF at a tight tolerance, begun anew at every discontinuity; latches and trips are located by
bisection on its dense output.
"""
import json
import sys

import numpy as np
from scipy.integrate import BDF

ATMOSPHERE = "atmosphere"


class Network:
    def __init__(self, export):
        k = export["constants"]
        self.R, self.T0, self.rho0 = k["gas_constant_J_per_kgK"], k["reference_temperature_K"], k["reference_density_kg_per_m3"]
        self.gamma, self.outside, self.wall = k["heat_ratio"], k["atmosphere_Pa"], k["wall_temperature_K"]
        self.eps, self.floor = k["smoothing"], k["pump_floor"]
        self.travel, self.spring = k["latch_travel_s"], k["spring_back_s"]
        rooms = export["rooms"]
        n = self.n = len(rooms)
        self.room = {r["name"]: i for i, r in enumerate(rooms)}
        self.room[ATMOSPHERE] = n  # the last column of pressures
        self.volume = np.array([r["volume_m3"] for r in rooms])
        self.pistons = []
        for i, r in enumerate(rooms):
            if r["piston"]:
                g = np.array([q["gauge_Pa"] for q in r["piston"]]) + self.outside
                v = np.array([q["volume_m3"] for q in r["piston"]]) + r["volume_m3"]
                self.pistons.append((i, g, v))
        self.warm = np.array([i for i, r in enumerate(rooms) if r["thermal"]], dtype=int)
        self.hA = np.array([rooms[i]["wall_W_per_K"] for i in self.warm])
        self.control = {c["name"]: i for i, c in enumerate(export["controls"])}
        self.latch = {c["name"]: i for i, c in enumerate(export["latches"])}

        e = export["elements"]
        self.a = np.array([self.room[x["from"]] for x in e])
        self.b = np.array([self.room[x["to"]] for x in e])
        self.c = np.array([x["conductance_m3_per_sPa"] for x in e])
        self.crit = np.array([x["critical_ratio"] for x in e])[:, None]
        self.forth = np.array([x["forth"] for x in e])[:, None]
        self.back = np.array([x["back"] for x in e])[:, None]
        self.openings = Openings(self, [x["opening"] for x in e])
        self.into = self.incidence(self.a, self.b)

        p = export["pumps"]
        self.pa = np.array([self.room[x["from"]] for x in p], dtype=int)
        self.pb = np.array([self.room[x["to"]] for x in p], dtype=int)
        self.swept = np.array([x["displacement_m3"] * x["ratio"] * x["efficiency"] for x in p])[:, None]
        self.clearance = np.array([x["clearance"] for x in p])[:, None]
        self.speed = np.array([self.control[x["speed_control"]] for x in p], dtype=int)
        self.pump_openings = Openings(self, [x["opening"] for x in p])
        self.pumped = self.incidence(self.pa, self.pb)

        p0 = np.array([r["pressure_Pa"] for r in rooms])
        kelvin = np.array([r["temperature_K"] for r in rooms])
        v0 = self.volume.copy()
        for i, g, v in self.pistons:
            v0[i] = np.interp(p0[i], g, v)
        self.start = np.concatenate([p0 * v0 / (self.R * kelvin), (p0 * v0)[self.warm]])
        self.scale = np.concatenate([1e5 * self.volume / (self.R * self.T0), 1e5 * self.volume[self.warm]])

    def incidence(self, a, b):
        """A matrix that turns the flows into what each room gains; the atmosphere's row is dropped."""
        m = np.zeros((self.n + 1, len(a)))
        for k, (i, j) in enumerate(zip(a, b)):
            m[i, k] -= 1
            m[j, k] += 1
        return m[:-1]

    def pressures(self, y):
        """Pressure and temperature of each room, the atmosphere last; y has a column for each state asked for."""
        cols = y.shape[1]
        p = np.empty((self.n + 1, cols))
        T = np.full((self.n + 1, cols), self.T0)
        m = y[: self.n]
        p[:-1] = m * self.R * self.T0 / self.volume[:, None]
        for i, g, v in self.pistons:
            p[i] = piston_pressure(m[i] * self.R * self.T0, g, v)
        if len(self.warm):
            E = y[self.n :]
            p[self.warm] = E / self.volume[self.warm][:, None]
            T[self.warm] = E / (m[self.warm] * self.R)
        p[-1] = self.outside
        return p, T

    def rates(self, y, controls, latches):
        p, T = self.pressures(y)
        u = self.openings.at(p, controls, latches)
        pa, pb = p[self.a], p[self.b]
        outward = pa >= pb
        up, down = np.where(outward, pa, pb), np.where(outward, pb, pa)
        Tup = np.where(outward, T[self.a], T[self.b])
        x = np.minimum((1 - down / up) / (1 - self.crit), 1)
        q = x * (2 - x)
        phi = np.sqrt(1 + self.eps) * q / np.sqrt(q + self.eps)
        share = np.where(outward, self.forth, -self.back)
        flow = self.c[:, None] * self.rho0 * up * np.sqrt(self.T0 / Tup) * phi * u * share  # kg/s from a to b
        gain = self.into @ flow
        if len(self.pa):
            suck, push = p[self.pa], p[self.pb]
            eta = 1 + self.clearance - self.clearance * (push / suck) ** 0.75
            eta = (eta + np.sqrt(eta**2 + self.floor**2)) / 2
            rho = suck / (self.R * self.T0)
            driven = rho * self.swept * controls[self.speed][:, None] * eta * self.pump_openings.at(p, controls, latches)
            gain = gain + self.pumped @ driven
        if not len(self.warm):
            return gain
        heat = self.gamma * self.R * (self.into[self.warm] @ (flow * Tup))
        heat += (self.gamma - 1) * self.hA[:, None] * (self.wall - T[self.warm])
        return np.concatenate([gain, heat])


def piston_pressure(x, p, v):
    """Solves pressure times volume = x, the volume being piecewise linear in the pressure and constant beyond its corners."""
    corner = p * v
    k = np.clip(np.searchsorted(corner, x, side="right") - 1, 0, len(p) - 2)
    slope = (v[k + 1] - v[k]) / (p[k + 1] - p[k])
    at0 = v[k] - slope * p[k]
    with np.errstate(divide="ignore", invalid="ignore"):
        bent = np.where(slope > 0, (np.sqrt(at0**2 + 4 * slope * x) - at0) / (2 * slope), x / at0)
    return np.where(x <= corner[0], x / v[0], np.where(x >= corner[-1], x / v[-1], bent))


class Openings:
    def __init__(self, network, openings):
        n = len(openings)
        self.base = np.array([o["base"] for o in openings])
        self.low = np.array([o["low"] for o in openings])[:, None] if n else np.zeros((0, 1))
        self.high = np.array([o["high"] for o in openings])[:, None] if n else np.zeros((0, 1))
        self.rooms = np.zeros((n, network.n + 1))
        self.controls = np.zeros((n, len(network.control)))
        self.latches = np.zeros((n, len(network.latch)))
        for k, o in enumerate(openings):
            for t in o["terms"]:
                if "room" in t:
                    self.rooms[k, network.room[t["room"]]] += t["gain"]
                elif "control" in t:
                    self.controls[k, network.control[t["control"]]] += t["gain"]
                else:
                    self.latches[k, network.latch[t["latch"]]] += t["gain"]

    def at(self, p, controls, latches):
        v = self.rooms @ p + (self.base + self.controls @ controls + self.latches @ latches)[:, None]
        v = np.clip(v, 0, 1)
        return self.low + (self.high - self.low) * v * v * (3 - 2 * v)


class Run:
    def __init__(self, export, every, rtol):
        self.net = net = Network(export)
        self.rtol = rtol
        self.t, self.end, self.y = export["begin_s"], export["end_s"], net.start.copy()
        self.ramps = [[c["from"], c["to"], c["since_s"], c["until_s"]] for c in export["controls"]]
        self.rest = [c["rest"] for c in export["controls"]]
        self.held = [c["held"] for c in export["controls"]]
        self.latches = export["latches"]
        self.up = np.array([1.0 if l["up"] else 0.0 for l in self.latches])
        self.rests = [l["rests_until_s"] for l in self.latches]
        self.trips = export["trips"]
        self.todo = sorted(
            [(i["at_s"], k, "input", i) for k, i in enumerate(export["inputs"])] + [(c["at_s"], k, "change", c) for k, c in enumerate(export["changes"])],
            key=lambda w: (w[0], w[2], w[1]),
        )
        self.gauges = np.array([net.room[g["room"]] for g in export["gauges"]], dtype=int)
        count = int((self.end - self.t) / every + 1e-9)
        self.times = self.t + every * np.arange(count + 1)
        self.samples, self.events = [], []

    def controls(self, t):
        return np.array([value(r, t) for r in self.ramps])

    def due(self):
        """Does what is due now: inputs, latches and trips whose level is reached."""
        while self.todo and self.todo[0][0] <= self.t:
            _, _, what, w = self.todo.pop(0)
            if what == "input":
                k = self.net.control[w["control"]]
                self.ramps[k] = [value(self.ramps[k], self.t), w["to"], self.t, self.t + w["over_s"]]
            else:
                self.net.c[w["element"]] = w["conductance_m3_per_sPa"]
        p, _ = self.net.pressures(self.y[:, None])
        for what, k in self.armed(self.t):
            if self.past(what, k, p[:, 0]) < -0.01:
                continue
            if what == "latch":
                self.up[k] = 1 - self.up[k]
                self.rests[k] = self.t + self.net.travel
                self.note(p, latch=self.latches[k]["name"], up=bool(self.up[k]))
            else:
                c = self.net.control[self.trips[k]["control"]]
                self.ramps[c] = [value(self.ramps[c], self.t), self.rest[c], self.t, self.t + self.net.spring]
                self.note(p, control=self.trips[k]["control"], up=False)

    def note(self, p, **event):
        self.events.append({"at_s": self.t, "pressures_Pa": list(p[self.gauges, 0]), **event})

    def armed(self, t):
        for k, l in enumerate(self.latches):
            if not l["held"] and self.rests[k] <= t:
                yield "latch", k
        for k, trip in enumerate(self.trips):
            c = self.net.control[trip["control"]]
            if not self.held[c] and self.ramps[c][1] != self.rest[c]:
                yield "trip", k

    def past(self, what, k, p):
        """How far past its level something is, in Pa."""
        if what == "trip":
            return self.trips[k]["below_Pa"] - p[self.net.room[self.trips[k]["room"]]]
        l = self.latches[k]
        v = p[self.net.room[l["room"]]] + l["aid"] * (p[self.net.room[l["aided_by"]]] - self.net.outside)
        return l["fall_Pa"] - v if self.up[k] else v - l["rise_Pa"]

    def corner(self):
        ends = [self.end] + [r[3] for r in self.ramps] + self.rests + [w[0] for w in self.todo[:1]]
        return min(e for e in ends if e > self.t)

    def go(self):
        while True:
            self.due()
            if self.t >= self.end:
                break
            self.stretch(self.corner())
        self.sample(self.end + 1e-9, lambda t: self.y)

    def stretch(self, until):
        net, up, ramps = self.net, self.up.copy(), [list(r) for r in self.ramps]
        fixed = None
        if all(r[3] <= self.t or r[2] >= until for r in ramps):
            fixed = self.controls(self.t)

        def f(t, y):
            c = fixed if fixed is not None else np.array([value(r, t) for r in ramps])
            return net.rates(y[:, None], c, up)[:, 0]

        def jacobian(t, y):
            c = fixed if fixed is not None else np.array([value(r, t) for r in ramps])
            h = 1e-7 * np.maximum(np.abs(y), net.scale)
            both = np.concatenate([y[:, None] + np.diag(h), y[:, None] - np.diag(h)], axis=1)
            out = net.rates(both, c, up)
            return (out[:, : len(y)] - out[:, len(y) :]) / (2 * h)

        solver = BDF(f, self.t, self.y, until, rtol=self.rtol, atol=0.1 * self.rtol * net.scale, jac=jacobian, max_step=5.0)
        armed = list(self.armed(self.t))
        while solver.status == "running":
            message = solver.step()
            if solver.status == "failed":
                raise RuntimeError("at %g s: %s" % (solver.t, message))
            line = solver.dense_output()
            at = self.crossed(armed, line, solver.t_old, solver.t)
            if at is not None:
                self.sample(at, line)
                self.t, self.y = at, line(at)
                return
            self.sample(solver.t, line)
        self.t, self.y = until, solver.y

    def crossed(self, armed, line, begin, end):
        """The earliest moment of a step at which a level is passed, or None."""
        first = None
        grid = np.linspace(begin, end, 6)[1:]
        p, _ = self.net.pressures(np.stack([line(t) for t in grid], axis=1))
        for what, k in armed:
            for i, t in enumerate(grid):
                if self.past(what, k, p[:, i]) > 0:
                    low, high = grid[i - 1] if i else begin, t
                    for _ in range(60):
                        mid = (low + high) / 2
                        q, _ = self.net.pressures(line(mid)[:, None])
                        if self.past(what, k, q[:, 0]) > 0:
                            high = mid
                        else:
                            low = mid
                    first = high if first is None else min(first, high)
                    break
        return first

    def sample(self, until, line):
        while len(self.samples) < len(self.times) and self.times[len(self.samples)] <= until:
            p, _ = self.net.pressures(line(self.times[len(self.samples)])[:, None])
            self.samples.append(list(p[self.gauges, 0]))


def value(ramp, t):
    v0, v1, begin, end = ramp
    if t >= end:
        return v1
    if t <= begin:
        return v0
    return v0 + (v1 - v0) * (t - begin) / (end - begin)


def main():
    with open(sys.argv[1]) as f:
        export = json.load(f)
    if export["format"] != "airpath network 2":
        sys.exit("this reads the format \"airpath network 2\", not %r" % export["format"])
    run = Run(export, float(sys.argv[2]), float(sys.argv[3]) if len(sys.argv) > 3 else 1e-6)
    run.go()
    json.dump({"times_s": list(run.times), "gauges_Pa": run.samples, "events": run.events}, sys.stdout)


if __name__ == "__main__":
    main()
