"""The material of the learned habit, as `workbench learned-data` writes it.

A strike is one key struck once. Lines follow one another; X[n, c] is what column c holds of strike n, counted through
all columns (column 0 first), so that one number names one row of the network's table.
"""
import hashlib
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
    """Probabilities [..., 5] as half bytes, two a byte; how `teacher.py` keeps its predictions."""
    q = np.minimum((p * 15 + 0.5).astype(np.uint8), 15).reshape(-1)
    if len(q) % 2:
        q = np.append(q, np.uint8(0))
    return ((q[0::2] << 4) | q[1::2]).tobytes()


def unpack_nibbles(data, shape):
    """What pack_nibbles kept, made to sum to one again."""
    q = np.frombuffer(data, np.uint8)
    q = np.stack([q >> 4, q & 15], -1).reshape(-1)[: int(np.prod(shape))].reshape(shape).astype(np.float32)
    return q / np.maximum(q.sum(-1, keepdims=True), 1e-6)
