"""Tapered necks under strings and rod: w'' = M(w) / EI as a boundary-value problem, solved by scipy. Writes cases.json."""
import json
import numpy as np
from scipy.integrate import solve_bvp

rng = np.random.default_rng(4)


def case():
    u = rng.uniform
    return {
        "length": u(0.30, 0.42),
        "EI": [u(350, 800), u(200, 350)],
        "axisDepth": [u(0.009, 0.011), u(0.008, 0.0095)],
        "jointCompliance": u(0, 2e-4),
        "bodyTurn": u(-0.004, 0.004),
        "pulls": [
            {
                "tension": u(60, 180),
                "heightAtNut": u(0.001, 0.003),
                "climb": u(0.002, 0.009),
                "pole": u(0.25, 0.35),
            }
            for _ in range(6)
        ],
        "tendon": {"from": u(0, 0.05), "to": 0.28, "force": u(0, 2000), "depth": u(0.008, 0.014), "moment": u(-3, 6)},
    }


def solve(c):
    length = c["length"]
    t = c["tendon"]
    knots = np.array([0.0, t["from"], t["to"], length])

    def line(pair, x):
        return pair[0] + (pair[1] - pair[0]) * x / length

    # four unknowns on each of three pieces mapped to 0..1 (slope, rise), and the tip's rise as a parameter
    def moment(x, w, tip, inside):
        e = line(c["axisDepth"], x)
        m = sum(
            p["tension"]
            * (
                p["heightAtNut"]
                + p["climb"] * (length - x)
                + e
                + tip * (x + p["pole"]) / (length + p["pole"])
                - w
            )
            for p in c["pulls"]
        )
        if inside:
            m = m - t["force"] * (t["depth"] - e) - t["moment"]
        return m

    def f(s, y, p):
        out = np.empty_like(y)
        for k in range(3):
            h = knots[k + 1] - knots[k]
            x = knots[k] + h * s
            out[2 * k] = y[2 * k + 1] * h
            out[2 * k + 1] = moment(x, y[2 * k], p[0], k == 1) / line(c["EI"], x) * h
        return out

    def bc(a, b, p):
        root = moment(0.0, 0.0, p[0], False)
        return np.array(
            [
                a[0],
                a[1] - c["bodyTurn"] - c["jointCompliance"] * root,
                b[0] - a[2],
                b[1] - a[3],
                b[2] - a[4],
                b[3] - a[5],
                b[4] - p[0],
            ]
        )

    s = np.linspace(0, 1, 41)
    found = solve_bvp(f, bc, s, np.zeros((6, s.size)), p=[0.0], tol=1e-11, max_nodes=100000)
    assert found.success, found.message
    middle = length / 2
    k = int(np.searchsorted(knots, middle) - 1)
    at = (middle - knots[k]) / (knots[k + 1] - knots[k])
    return {"tipRise": float(found.p[0]), "middleRise": float(found.sol(at)[2 * k])}


cases = []
for _ in range(12):
    c = case()
    cases.append({**c, **solve(c)})
json.dump(cases, open("cases.json", "w"), indent=1)
