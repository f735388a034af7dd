#!/usr/bin/env python3
"""Draws how the fit's time grows, log-log, from what the benchmark prints:

    go test -run '^$' -bench Growth -benchtime 3x -count 3 ./profile/fit | python3 testdata/compare/growth.py profile/fit/growth.svg

Processor time counts, so that other programs do not add to it; of several runs the shortest.
"""
import math
import re
import sys

import matplotlib

matplotlib.use("svg")
import matplotlib.pyplot as plt


def read(lines):
    """Returns {series: {(elements, samples): seconds}}."""
    best = {}
    for line in lines:
        m = re.match(r"BenchmarkGrowth/(\w+)/(\d+)/(\d+)\S*\s.*?([\d.e+]+) cpu-ns/op", line)
        if m:
            key = int(m[2]), int(m[3])
            series = best.setdefault(m[1], {})
            series[key] = min(series.get(key, math.inf), float(m[4]) / 1e9)
    return best


def slope(x, y):
    """The exponent of the power law through the points, in least squares."""
    lx, ly = [math.log(v) for v in x], [math.log(v) for v in y]
    mx, my = sum(lx) / len(lx), sum(ly) / len(ly)
    return sum((a - mx) * (b - my) for a, b in zip(lx, ly)) / sum((a - mx) ** 2 for a in lx)


def main():
    best = read(sys.stdin)
    if set(best) != {"samples", "elements"}:
        sys.exit("growth.py: pipe the output of the Growth benchmark in")
    plt.rcParams.update({"svg.hashsalt": "growth", "svg.fonttype": "none", "font.size": 9})
    fig, axes = plt.subplots(1, 2, figsize=(7, 3), sharey=True)
    for ax, name, at in zip(axes, ["samples", "elements"], [1, 0]):
        keys = sorted(best[name], key=lambda k: k[at])
        x, y = [k[at] for k in keys], [1000 * best[name][k] for k in keys]
        s = slope(x, y)
        print(f"{name}: {', '.join(f'{a} {b:.0f} ms' for a, b in zip(x, y))}; exponent {s:.2f}")
        ax.loglog(x, y, "o-", color="0.2", markersize=4)
        other = keys[0][1 - at] if at == 1 else f"{min(k[1] for k in keys)} to {max(k[1] for k in keys)}"
        ax.set_xlabel(f"{name} ({other} {'elements' if at else 'samples'}), time ~ n^{s:.1f}")
        ax.grid(True, which="both", linewidth=0.3)
    axes[0].set_ylabel("trace to pattern, processor ms")
    fig.tight_layout()
    fig.savefig(sys.argv[1], metadata={"Date": None})


main()
