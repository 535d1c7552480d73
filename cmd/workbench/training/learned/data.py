"""The material of the learned habit, as `workbench learned-data` writes it.

A strike is one key struck once. Lines follow one another; X[n, c] is what column c holds of strike n, counted through
all columns (column 0 first), so that one number names one row of the network's table.
"""
import hashlib
import itertools
import json
import lzma
import os

import numpy as np

HIDDEN_NONE = 255
FILES = ["lines.i32", "columns.u8", "labels.u8"] + [f"shares-{t}.u8" for t in range(6)]


def checksum(path):
    h = hashlib.sha256()
    with open(path, "rb") as f:
        for block in iter(lambda: f.read(1 << 20), b""):
            h.update(block)
    return h.hexdigest()


def raw(folder, name):
    """The bytes of a file, packed (.xz) or not."""
    path = os.path.join(folder, name)
    if os.path.exists(path + ".xz"):
        with lzma.open(path + ".xz") as f:
            return f.read()
    with open(path, "rb") as f:
        return f.read()


class Material:
    """All strikes. Groups 0 to 4 must not see the strikes of their fold; group 5 sees all."""

    def __init__(self, folder):
        self.sums = {}
        with open(os.path.join(folder, "meta.json")) as f:
            meta = json.load(f)
        self.attribution = meta.get("attribution", [])
        self.columns = [(c["Name"], c["Values"]) for c in meta["columns"]]
        blobs = {}
        for name in FILES:
            blobs[name] = raw(folder, name)
            self.sums[name] = hashlib.sha256(blobs[name]).hexdigest()
        lines = np.frombuffer(blobs["lines.i32"], "<i4").reshape(-1, 6)
        self.first, self.length = lines[:, 0].astype(np.int64), lines[:, 1].astype(np.int64)
        self.n = int(self.length.sum())
        columns = np.frombuffer(blobs["columns.u8"], np.uint8).reshape(self.n, len(self.columns))
        self.offsets = np.concatenate([[0], np.cumsum([v for _, v in self.columns])[:-1]])
        self.rows = int(sum(v for _, v in self.columns))
        self.x = columns.astype(np.int16) + self.offsets.astype(np.int16)
        labels = np.frombuffer(blobs["labels.u8"], np.uint8).reshape(self.n, 3)
        self.clean, self.given, self.hidden = (labels[:, k].astype(np.int64) for k in range(3))
        self.set = np.repeat(lines[:, 2], self.length).astype(np.int64)
        self.fold = np.repeat(np.where(lines[:, 3] < 0, 9, lines[:, 3]), self.length).astype(np.int64)
        self.labelled = int((self.set == 0).sum())  # the fingered lines come first
        shares = np.stack([np.frombuffer(blobs[f"shares-{t}.u8"], np.uint8).reshape(self.n, 5) for t in range(6)])
        self.shares = shares  # in 255ths, by the tables fitted without each fold, then by the shipped one

    def column(self, name):
        """Number of a column, its first row and its size."""
        k = [c for c, _ in self.columns].index(name)
        return k, int(self.offsets[k]), self.columns[k][1]


def pack_nibbles(p):
    """Probabilities [..., 5] as half bytes, two a byte; how `teacher.py` writes its predictions."""
    q = np.minimum((p * 15 + 0.5).astype(np.uint8), 15).reshape(-1)
    if len(q) % 2:
        q = np.append(q, np.uint8(0))
    return ((q[0::2] << 4) | q[1::2]).tobytes()


def unpack_nibbles(data, shape):
    """What pack_nibbles wrote, made to sum to one again."""
    q = np.frombuffer(data, np.uint8)
    q = np.stack([q >> 4, q & 15], -1).reshape(-1)[: int(np.prod(shape))].reshape(shape).astype(np.float32)
    return q / np.maximum(q.sum(-1, keepdims=True), 1e-6)


# What is kept of a teacher: how four quarters are dealt out among five fingers, one of 70 ways, or that nothing is kept.
QUARTERS = 4
DEALS = np.array([d for d in itertools.product(range(QUARTERS + 1), repeat=5) if sum(d) == QUARTERS], np.int64)
NOTHING = 255


def deal(p):
    """Probabilities [..., 5] → the number of the deal that is nearest: whole quarters first, then the largest rests."""
    x = p * QUARTERS
    whole = np.floor(x)
    rank = np.argsort(np.argsort(-(x - whole), -1, kind="stable"), -1, kind="stable")
    q = (whole + (rank < QUARTERS - whole.sum(-1, keepdims=True))).astype(np.int64)
    number = np.zeros((QUARTERS + 1,) * 5, np.uint8)
    number[tuple(DEALS.T)] = np.arange(len(DEALS))
    return number[tuple(np.moveaxis(q, -1, 0))]


def pack_kept(deals):
    """Deals [6, strikes] → bytes: those of the last group, then of each other group 0 where it has the same as the last
    one, else the deal's number and 1. Deals of the last group are NOTHING where nothing is kept."""
    last = deals[5].astype(np.int64)
    rest = [np.where((d == last) | (last == NOTHING), 0, d.astype(np.int64) + 1).astype(np.uint8) for d in deals[:5]]
    return b"".join(a.tobytes() for a in [deals[5].astype(np.uint8), *rest])


def read_kept(path, m):
    """Probabilities [6, all strikes, 5] of a file of `keep.py`, and which strikes are kept."""
    with lzma.open(path) as f:
        a = np.frombuffer(f.read(), np.uint8).reshape(6, m.n - m.labelled)
    kept = a[0] != NOTHING
    p = np.zeros((6, m.n, 5), np.float32)
    for g in range(6):
        d = a[0] if g == 5 else np.where(a[g + 1] == 0, a[0], a[g + 1] - 1)
        p[g, m.labelled :] = np.where(kept[:, None], DEALS[np.where(kept, d, 0)] / QUARTERS, 0)
    return p, np.concatenate([np.zeros(m.labelled, bool), kept])
