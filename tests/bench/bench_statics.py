#!/usr/bin/python3
"""Statics against scipy in one run: the four-leg load from its drawn pose, least energy by BFGS with slopes.

    bench_statics.py PATH_OF_bench_statics

Prints ratios with the load average beside them; asserts nothing.  Goals: a cold solve in at most 1/800 of scipy's
time, the envelope of 8 tolerances in the order of its 256 corners.
"""
import os
import statistics
import subprocess
import sys
import time

G = 9.80665


def scipy_seconds():
    import numpy as np
    from scipy.optimize import minimize

    cog = np.array([1.35, 0.20, 0.70])
    points = np.array([[0.1, 0.9, 1.2], [2.3, 0.9, 1.2], [0.1, -0.8, 1.2], [2.3, -0.8, 1.2]])
    hook, ea, weight = np.array([1.10, 0.05, 4.0]), 5e6, 3600 * G
    rest = np.linalg.norm(points - hook, axis=1)
    eye = np.eye(3)

    def cross(v):
        return np.array([[0, -v[2], v[1]], [v[2], 0, -v[0]], [-v[1], v[0], 0]])

    def energy(x):
        r = x[3:]
        angle = np.sqrt(r @ r) + 1e-30
        K = cross(r / angle)
        turn = eye + np.sin(angle) * K + (1 - np.cos(angle)) * K @ K
        left = eye + (1 - np.cos(angle)) / angle * K + (1 - np.sin(angle) / angle) * K @ K
        arms = (points - cog) @ turn.T
        way = hook - (x[:3] + arms)
        length = np.sqrt((way * way).sum(1))
        t = np.maximum(ea / rest * (length - rest), 0)
        pull = (t / length)[:, None] * way
        force = np.array([0, 0, weight]) - pull.sum(0)
        moment = -np.cross(arms, pull).sum(0)
        return ((0.5 * t * t * rest / ea).sum() + weight * x[2]) / weight, np.concatenate([force, left.T @ moment]) / weight

    start = np.concatenate([cog, np.zeros(3)])
    times = []
    for _ in range(15):
        before = time.process_time()
        minimize(energy, start, jac=True, method="BFGS", options={"gtol": 1e-10})
        times.append(time.process_time() - before)
    return statistics.median(times)


def main():
    out = subprocess.run([sys.argv[1]], capture_output=True, text=True, check=True).stdout
    print(out, end="")
    seconds = {line.split()[0]: float(line.split()[1]) for line in out.splitlines()}
    print("load average %.2f" % os.getloadavg()[0])
    print("envelope / 256 corners %.2f" % (seconds["envelope"] / seconds["corners"]))
    try:
        reference = scipy_seconds()
    except ImportError:
        print("scipy is not installed: no ratio to it")
        return
    print("scipy BFGS %.3g s: cold solve %.0f times as fast, warm %.0f" %
          (reference, reference / seconds["cold"], reference / seconds["warm"]))


main()
