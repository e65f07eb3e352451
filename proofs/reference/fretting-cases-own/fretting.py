"""Pitch of a stiff, extensible string pressed behind a fret: the full boundary-value problem. See README.md.

python3 fretting.py      writes f01.json .. f20.json beside this file (seed 20251126)
"""

import json
import math
import os

import numpy as np
import scipy
from scipy.integrate import solve_bvp
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import eigsh

SEED = 20251126
CASES = 20
MM = 1e-3


# ---------------------------------------------------------------- vibration: Hermite beam elements on the strung line

def graded(length, layer):
    """Places of nodes on a span, fine (layer/12) at both ends and growing by 1.25 to a hundredth of the span."""
    steps, reached = [], 0.0
    step = min(layer / 12, length / 8)
    while reached < length / 2:
        steps.append(step)
        reached += step
        step = min(step * 1.25, length / 100)
    half = np.concatenate([[0.0], np.cumsum(steps)])
    half *= (length / 2) / half[-1]
    return np.concatenate([half, length - half[-2::-1]])


def frequency(lengths, tensions, strains, ei, mu0, part, n=1):
    """First frequency (Hz) of the mode that lives in span `part` of a line held at the ends of every span, slopes free
    and continuous; EI per unit of unloaded length, mu0 per unit of unloaded length."""
    rows, cols, kval, mval = [], [], [], []
    where, dof, held = [], 0, []
    node = 0
    held.append(0)
    for i, l in enumerate(lengths):
        stretch = 1 + strains[i]
        b = ei * stretch
        t = tensions[i]
        m = mu0 / stretch
        xs = graded(l, math.sqrt(b / t))
        for h in np.diff(xs):
            kb = b / h**3 * np.array(
                [[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                 [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]])
            kt = t / (30 * h) * np.array(
                [[36, 3 * h, -36, 3 * h], [3 * h, 4 * h * h, -3 * h, -h * h],
                 [-36, -3 * h, 36, -3 * h], [3 * h, -h * h, -3 * h, 4 * h * h]])
            mm = m * h / 420 * np.array(
                [[156, 22 * h, 54, -13 * h], [22 * h, 4 * h * h, 13 * h, -3 * h * h],
                 [54, 13 * h, 156, -22 * h], [-13 * h, -3 * h * h, -22 * h, 4 * h * h]])
            ids = [2 * node, 2 * node + 1, 2 * node + 2, 2 * node + 3]
            for p in range(4):
                for q in range(4):
                    rows.append(ids[p])
                    cols.append(ids[q])
                    kval.append(kb[p, q] + kt[p, q])
                    mval.append(mm[p, q])
            where.append((i, ids))
            node += 1
        held.append(2 * node)
    size = 2 * node + 2
    free = np.setdiff1d(np.arange(size), held)
    K = coo_matrix((kval, (rows, cols)), (size, size)).tocsc()[free][:, free]
    M = coo_matrix((mval, (rows, cols)), (size, size)).tocsc()[free][:, free]
    guess = n / (2 * lengths[part]) * math.sqrt(tensions[part] * (1 + strains[part]) / mu0)
    # scaled slopes keep the two matrices alike
    w2, vec = eigsh(K, k=4, M=M, sigma=(2 * math.pi * guess) ** 2, which="LM")
    best = None
    for j in range(len(w2)):
        full = np.zeros(size)
        full[free] = vec[:, j]
        inside = sum(abs(full[ids[0]]) ** 2 for i, ids in where if i == part)
        share = inside / sum(abs(full[ids[0]]) ** 2 for _, ids in where)
        if best is None or share > best[0]:
            best = (share, w2[j])
    assert best[0] > 0.5, best
    return math.sqrt(best[1]) / (2 * math.pi)


# ---------------------------------------------------------------- rest: extensible elastica through frictionless points

def rest(points, held_zones, ei, ea, t0):
    """Static state. points: (x, y) of the ends of all spans. held_zones: lists of spans that share an unloaded length,
    with that length. Unknown for each span: its unloaded length and the force (H, V) that it carries; at the points
    between spans of a zone the push is square to the string. Returns per-span lengths, tensions, strains, pushes."""
    n = len(points) - 1
    x0 = np.array([p[0] for p in points])
    y0 = np.array([p[1] for p in points])
    dx, dy = np.diff(x0), np.diff(y0)
    chord = np.hypot(dx, dy)
    relaxed = chord / (1 + t0 / ea)
    # numbers of order one: places in mm, slopes in 1/100, moments in N mm
    sy, sp, sm, su = MM, 1e-2, MM, 1e-5

    def unpack(p):
        return relaxed * (1 + 1e-4 * p[:n]), t0 * (1 + 1e-2 * p[n:2 * n]), t0 * 1e-2 * p[2 * n:]

    def fun(z, s, p):
        lam, H, V = (a[:, None] for a in unpack(p))
        phi, m = sp * s[2 * n:3 * n], sm * s[3 * n:]
        c, d = np.cos(phi), np.sin(phi)
        e = 1 + (H * c + V * d) / ea
        return np.vstack([
            (lam * e * c - dx[:, None]) / su,
            (lam * e * d - dy[:, None]) / sy,
            lam * m / ei / sp,
            lam * e * (H * d - V * c) / sm,
        ])

    def pull(phi, H, V):
        return H * np.cos(phi) + V * np.sin(phi)

    def bc(a, b, p):
        lam, H, V = unpack(p)
        pa, pb = sp * a[2 * n:3 * n], sp * b[2 * n:3 * n]
        na, nb = pull(pa, H, V), pull(pb, H, V)
        out = [a[:n], b[:n], a[n:2 * n], b[n:2 * n], a[2 * n + 1:3 * n] - b[2 * n:3 * n - 1],
               a[3 * n + 1:] - b[3 * n:-1], [a[3 * n], b[-1]]]
        for spans, length in held_zones:
            for i, j in zip(spans[:-1], spans[1:]):
                out.append([(na[j] - nb[i]) / t0 * 1e2])
            out.append([(lam[spans].sum() - length) / length * 1e4])
        return np.concatenate(out)

    z = np.concatenate([[0.0], np.geomspace(2e-4, 0.5, 60)])
    z = np.concatenate([z, 1 - z[-2::-1]])
    slope = dy / dx
    s = np.zeros((4 * n, z.size))
    s[2 * n:3 * n] = (slope / sp)[:, None]
    p = np.concatenate([np.zeros(2 * n), slope / 1e-2])
    got = solve_bvp(fun, bc, z, s, p, tol=1e-7, max_nodes=4000, bc_tol=1e-9)
    assert got.success, got.message
    lam, H, V = unpack(got.p)
    # s of the displacements: u in su, heights from the chord in sy
    fine = np.unique(np.concatenate([got.x, 0.5 * (got.x[1:] + got.x[:-1])]))
    val = got.sol(fine)
    phi = sp * val[2 * n:3 * n]
    N = pull(phi, H[:, None], V[:, None])
    # length under load: integral of 1 + N/EA over the unloaded length
    lengths = lam * np.trapezoid(1 + N / ea, fine, axis=1)
    tension = N[:, N.shape[1] // 2]
    pushes = V[1:] - V[:-1]  # upward on the string at points 1 .. n-1 is V(before) - V(after)

    def height(x):
        i = int(np.clip(np.searchsorted(x0, x) - 1, 0, n - 1))
        zz = np.linspace(0, 1, 4001)
        v = got.sol(zz)
        xs = x0[i] + dx[i] * zz + su * v[i]
        ys = y0[i] + dy[i] * zz + sy * v[n + i]
        return float(np.interp(x, xs, ys))

    return dict(lengths=lengths, tension=tension, strain=tension / ea, pushes=-pushes, height=height)


# ---------------------------------------------------------------- one case

def solve(c):
    ei, ea, mu = c["bendingStiffness"], c["axialStiffness"], c["linearDensity"]
    place, crown = np.array(c["fretPlace"]), np.array(c["crownHeight"])
    L, fret = c["scaleLength"], c["fret"]
    rise = (c["saddleHeight"] - c["nutHeight"]) / L
    flat = 1 / math.hypot(1, rise)
    on = lambda x: (x, c["nutHeight"] + rise * x)
    nut, saddle = on(c["nutOffset"]), on(L + c["saddleOffset"])
    post, pin = on(nut[0] - c["behindNut"] * flat), on(saddle[0] + c["behindSaddle"] * flat)
    sounding = (saddle[0] - nut[0]) / flat
    whole = [c["behindNut"], sounding, c["behindSaddle"]]

    # tune: mu is the mass per length of the string as tuned open
    def tuned(t):
        strain = t / ea
        return frequency(whole, [t] * 3, [strain] * 3, ei, mu * (1 + strain), 1) - c["openFrequency"]
    a = mu * (2 * sounding * c["openFrequency"]) ** 2
    b = a * 0.99
    fa, fb = tuned(a), tuned(b)
    for _ in range(6):
        if abs(fb) < 1e-9 * c["openFrequency"]:
            break
        a, fa, b = b, fb, b - fb * (b - a) / (fb - fa)
        fb = tuned(b)
    t0 = b
    mu0 = mu * (1 + t0 / ea)
    relaxed = [l / (1 + t0 / ea) for l in whole]

    back = c["fingerBehind"]
    finger_x = place[fret] - back
    line = crown[fret] + (crown[fret] - crown[fret - 1]) / (place[fret] - place[fret - 1]) * (finger_x - place[fret])
    finger = (finger_x, line - c["fingerDepth"])
    touched = []
    while True:
        inner = [(place[f], crown[f]) for f in touched]
        points = [post, nut, *inner, finger, (place[fret], crown[fret]), saddle, pin]
        n = len(points) - 1
        if c["friction"] == "none":
            zones = [(list(range(n)), sum(relaxed))]
        else:
            zones = [([0], relaxed[0]), (list(range(1, n - 1)), relaxed[1]), ([n - 1], relaxed[2])]
        r = rest(points, zones, ei, ea, t0)
        worst = min(((r["height"](place[f]) - crown[f], f) for f in range(1, fret) if f not in touched), default=(1, 0))
        if worst[0] < -1e-9:
            touched = sorted([*touched, worst[1]])
            continue
        pulling = [f for k, f in enumerate(touched) if r["pushes"][1 + k] <= 0]
        if not pulling:
            break
        touched = [f for f in touched if f not in pulling]
    at = n - 2  # span between fret and saddle
    ok = r["pushes"][n - 3] > 0 and all(r["height"](place[f]) > crown[f] + 1e-6 for f in range(fret + 1, len(place)))
    if not ok:
        return None
    f = frequency(list(r["lengths"]), list(r["tension"]), list(r["strain"]), ei, mu0, at)
    wanted = c["openFrequency"] * L / (L - place[fret])
    return dict(openTension=t0, tension=float(r["tension"][at]), frequency=f, cents=1200 * math.log2(f / wanted),
                fingerForce=float(-r["pushes"][n - 4]), crownForce=float(r["pushes"][n - 3]), alsoOn=touched)


def draw(rng, i):
    """One set-up: plain .012 to .018 or wound .022 to .053 in. EI, EA and mass are rough but of the right size."""
    inch = 0.0254
    wound = rng.random() < 0.6
    if wound:
        gauge = rng.uniform(0.022, 0.053)
        core = (0.0085 + 0.19 * gauge) * inch
        area, inertia = math.sqrt(3) / 2 * core**2, 5 * math.sqrt(3) / 144 * core**4
        wrap = (gauge * inch - 1.1547 * core) / 2
        mu = 7850 * area + 8800 * math.pi**2 / 4 * wrap * (1.1 * core + wrap)
    else:
        gauge = rng.uniform(0.012, 0.018)
        d = gauge * inch
        area, inertia, mu = math.pi / 4 * d**2, math.pi / 64 * d**4, 7850 * math.pi / 4 * d**2
    L = rng.uniform(0.610, 0.690)
    pull = rng.uniform(75, 140)
    place = L * (1 - 2.0 ** (-np.arange(21) / 12))
    relief = rng.uniform(0, 0.3) * MM
    u = (place - place[1]) / (place[14] - place[1])
    crown = np.where((u > 0) & (u < 1), -4 * relief * u * (1 - u), 0.0)
    fret = int(rng.integers(1, 21))
    gap = place[fret] - place[fret - 1]
    nut_height = rng.uniform(0.25, 0.6) * MM
    action = rng.uniform(1.5, 3.0) * MM
    rise = (crown[12] + action - nut_height) / place[12]
    return dict(
        id=f"f{i + 1:02d}", gaugeInch=round(gauge, 4), wound=bool(wound), linearDensity=mu, bendingStiffness=207e9 * inertia,
        axialStiffness=207e9 * area, openFrequency=math.sqrt(pull / mu) / (2 * L), scaleLength=L, fretPlace=list(place),
        crownHeight=list(crown), nutHeight=nut_height, saddleHeight=nut_height + rise * L,
        nutOffset=rng.uniform(0, 0.5) * MM, saddleOffset=rng.uniform(0, 5) * MM, behindNut=rng.uniform(0.04, 0.14),
        behindSaddle=rng.uniform(0.01, 0.025), friction="none" if i % 2 == 0 else "full", fret=fret,
        fingerBehind=min(0.012, gap * rng.uniform(0.3, 0.5)), fingerDepth=rng.uniform(0.2, 0.6) * MM)


def main():
    here = os.path.dirname(os.path.abspath(__file__))
    rng = np.random.default_rng(SEED)
    i = 0
    while i < CASES:
        case = draw(rng, i)
        found = solve(case)
        if found is None:
            print(case["id"], "lifts or buzzes: drawn again")
            continue
        print(case["id"], case["friction"], "fret", case["fret"], {k: v for k, v in found.items()}, flush=True)
        with open(os.path.join(here, case["id"] + ".json"), "w") as f:
            json.dump(dict(case, expected=found, program=f"scipy {scipy.__version__}, numpy {np.__version__}"), f, indent=1)
            f.write("\n")
        i += 1


if __name__ == "__main__":
    main()
