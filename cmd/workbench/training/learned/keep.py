"""Keeps of the teachers what a student needs: python3 keep.py DATA TEACHER[,TEACHER…] OUT.

TEACHER is teacher.u4.xz as `teacher.py` writes it (several: their mean). Nothing is kept of the scores that carry
digits, nor of passages of other scores that stand in them, too: strikes with the same keys over nine events as a printed
one has, and those within eight strikes of them. What is left holds in quarters what each group holds of five fingers.
"""
import lzma
import os
import sys

import numpy as np

from data import NOTHING, Material, checksum, deal, pack_kept, unpack_nibbles

NEAR = 8


def same_keys(m):
    """A number for each strike that is the same where hand, keys and those of four events to either side are."""
    plain = ("pitch class", "place in the chord", "hand and grace note")
    columns = [k for k, (name, _) in enumerate(m.columns) if name in plain or name.split()[0] in ("lowest", "highest")]
    rng = np.random.default_rng(5)
    key = np.zeros(m.n, np.uint64)
    for k in columns:
        by = rng.integers(1, 2**63, size=m.rows, dtype=np.uint64)
        key = key * np.uint64(6364136223846793005) + by[m.x[:, k]]
    return key


def main():
    folder, teachers, path = sys.argv[1], sys.argv[2].split(","), sys.argv[3]
    m = Material(folder)
    p = sum(unpack_nibbles(lzma.open(f).read(), (6, m.n, 5))[:, m.labelled :] for f in teachers) / len(teachers)
    key, printed = same_keys(m), (m.given > 0)[: m.labelled]
    same = np.nonzero(np.isin(key[m.labelled :], key[: m.labelled][printed]))[0]
    leave = np.zeros(m.n - m.labelled, bool)
    for d in range(-NEAR, NEAR + 1):
        leave[np.clip(same + d, 0, len(leave) - 1)] = True
    deals = np.stack([deal(g) for g in p])
    deals[:, leave] = NOTHING
    with lzma.open(path, "wb", preset=9 | lzma.PRESET_EXTREME) as f:
        f.write(pack_kept(deals))
    print(f"{len(leave) - leave.sum()} strikes of {m.n}, {os.path.getsize(path)} bytes, {checksum(path)}; of "
          f"{', '.join(checksum(t) for t in teachers)}")


main()
