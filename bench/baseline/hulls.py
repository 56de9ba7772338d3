"""Lower hulls of Gibbs-energy points by SciPy, as its manual advises: ConvexHull (Qhull) for the facets, NumPy for the rest.

Reads a problem (JSON, path in argv[1]), then one command a line on standard input; answers one JSON line each.
  answer   energies and liquid shares, for comparing
  decide   energies by linear programming, of the pairs (composition, member) that follow as JSON
  triangle times the whole triangle over all members
  point    times one hull and one composition
"""

import json
import sys
import time

import numpy as np
from scipy.optimize import linprog
from scipy.spatial import ConvexHull

SMALLEST_SHARE = 1e-9


def lower_hull(shares, heights):
    """Corners, inverse matrices and planes of the facets that are seen from below."""
    points = np.column_stack([shares[:, 0], shares[:, 1], heights * 1e-5])
    hull = ConvexHull(points)
    corners = hull.simplices[hull.equations[:, 2] < -1e-9]
    matrices = shares[corners]
    is_wide = np.abs(np.linalg.det(matrices)) > 1e-13
    corners, matrices = corners[is_wide], matrices[is_wide]
    inverses = np.linalg.inv(matrices)
    planes = np.einsum("fij,fj->fi", inverses, heights[corners])
    return corners, inverses, planes


def scan(member, compositions):
    """Energy, share of liquid, and whether liquid and 123 are both there, of every composition.

    The lower hull is the highest of its facets' planes, so the facet of a composition is an argmax: one product of matrices.
    """
    corners, inverses, planes = lower_hull(member["shares"], member["heights"])
    energies = compositions @ planes.T
    facets = energies.argmax(axis=1)
    weights = np.einsum("ni,nij->nj", compositions, inverses[facets])
    is_there = weights > SMALLEST_SHARE
    liquid = member["is_liquid"][corners][facets] & is_there
    solid = member["is_123"][corners][facets] & is_there
    share = np.where(liquid, weights, 0).sum(axis=1)
    both = liquid.any(axis=1) & solid.any(axis=1)
    return energies[np.arange(len(facets)), facets], share, both


def triangle(members, compositions):
    odds = np.zeros(len(compositions))
    shares = np.empty((len(compositions), len(members)))
    energies = np.empty_like(shares)
    for i, member in enumerate(members):
        energies[:, i], shares[:, i], both = scan(member, compositions)
        odds += both
    return energies, shares, odds / len(members)


def lowest(member, composition):
    return linprog(member["heights"], A_eq=member["shares"].T, b_eq=composition, method="highs").fun


def timed(work, repeats):
    wall, cpu = time.perf_counter(), time.process_time()
    for _ in range(repeats):
        work()
    return {
        "wallMs": 1e3 * (time.perf_counter() - wall) / repeats,
        "cpuMs": 1e3 * (time.process_time() - cpu) / repeats,
    }


def main():
    with open(sys.argv[1]) as file:
        problem = json.load(file)
    compositions = np.array(problem["compositions"]).reshape(-1, 3)
    members = [
        {
            "shares": np.array(member["shares"]).reshape(-1, 3),
            "heights": np.array(member["heights"]),
            "is_liquid": np.array(member["isLiquid"], dtype=bool),
            "is_123": np.array(member["is123"], dtype=bool),
        }
        for member in problem["members"]
    ]
    one = compositions[:1]
    for line in sys.stdin:
        command, _, rest = line.strip().partition(" ")
        if command == "answer":
            energies, shares, _ = triangle(members, compositions)
            reply = {"energies": energies.ravel().tolist(), "shares": shares.ravel().tolist()}
        elif command == "decide":
            reply = [lowest(members[m], compositions[i]) for i, m in json.loads(rest)]
        elif command == "triangle":
            reply = timed(lambda: triangle(members, compositions), 1)
        elif command == "point":
            reply = timed(lambda: scan(members[0], one), 20)
        else:
            raise SystemExit(f"unknown command {command}")
        print(json.dumps(reply), flush=True)


main()
