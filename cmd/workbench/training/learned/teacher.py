"""Trains the teachers: python3 teacher.py DATA OUT [--seeds 5] [--steps 2600].

For each fold, and for all of the material, as many networks as there are seeds: taught first by how likely the engine
holds each finger on every score, then shortly by printed digits. Writes teacher.u4.xz, the mean of their probabilities
for every strike by group (half bytes), and unseen.npy, the log-probabilities of the groups that have not seen a fold.
"""
import argparse
import json
import lzma
import os
import time

import numpy as np
import torch
import torch.nn.functional as F

from data import Material, checksum, pack_nibbles
from nets import (DEVICE, Examples, Teacher, Training, agreement, autocast, beside_engine, engine_unseen, predict,
                  unseen)


def main():
    a = argparse.ArgumentParser()
    a.add_argument("data")
    a.add_argument("out")
    a.add_argument("--seeds", type=int, default=5)
    a.add_argument("--seed", type=int, default=1, help="of the first network; the others follow")
    a.add_argument("--steps", type=int, default=2600)
    a.add_argument("--printed-steps", type=int, default=350)
    a.add_argument("--width", type=int, default=256)
    a.add_argument("--body", default="1a2a1a")
    a.add_argument("--batch", type=int, default=64)
    a.add_argument("--until", type=float, default=0, help="seconds after which the first teaching ends")
    a.add_argument("--upto", type=int, default=0, help="predict so many strikes only (to try the script)")
    o = a.parse_args()
    start = time.time()
    os.makedirs(o.out, exist_ok=True)
    torch.manual_seed(o.seed)
    rng = np.random.default_rng(o.seed)
    m = Material(o.data)
    ex = Examples(m)
    engine = engine_unseen(ex)
    folds = list(range(6)) * o.seeds
    print(f"{m.n} strikes, {m.labelled} of them fingered, {m.rows} rows; engine alone {agreement(ex, engine):.4f}; "
          f"{time.time()-start:.0f} s", flush=True)
    net = Teacher(len(folds), m.rows, o.width, o.body).to(DEVICE)
    parameters = sum(p.numel() for p in net.parameters()) // len(folds)
    t = Training(net, folds, ex, o.batch)
    shares = torch.tensor(m.shares, device=DEVICE)
    of = torch.tensor(folds, device=DEVICE)

    def shown(idx, mask):
        """In half of the windows a part of the printed digits is shown."""
        part = torch.rand(len(idx), 1, device=DEVICE) * (torch.rand(len(idx), 1, device=DEVICE) < 0.5)
        given = ex.given[idx] * mask
        return torch.where(torch.rand(idx.shape, device=DEVICE) < part, given, torch.zeros_like(given))

    def by_engine(idx, mask):
        show = shown(idx, mask)
        with autocast():
            z = net(ex.hot(idx, show, jitter=True, forget=0.05), mask).log_softmax(-1)
        target = shares[:, idx][of].float()
        target = target / target.sum(-1, keepdim=True).clamp(min=1)
        w = (t.seen(idx, mask) & (show == 0)[None]).float()
        return (-(target * z).sum(-1) * w).sum((1, 2)) / w.sum((1, 2)).clamp(min=20)

    def smooth(y, by):
        return F.one_hot((y - 1).clamp(min=0), 5).float() * (1 - by) + by / 5

    def by_print(idx, mask):
        show = shown(idx, mask)
        with autocast():
            z = net(ex.hot(idx, show, jitter=True, forget=0.05), mask).log_softmax(-1)
        seen = t.seen(idx, mask) & (show == 0)[None]
        clean, given = ex.clean[idx], ex.given[idx]
        w = (seen & (clean > 0)[None]).float()
        v = 0.3 * (seen & ((given > 0) & (clean == 0))[None]).float()
        l = -(z * smooth(clean, 0.05)[None]).sum(-1) * w - (z * smooth(given, 0.15)[None]).sum(-1) * v
        return l.sum((1, 2)) / (w + v).sum((1, 2)).clamp(min=20)

    def report(what):
        z = predict(net, ex, m.labelled, shown=True)
        each = [agreement(ex, unseen(ex, z[6 * s : 6 * s + 6], folds[:6])) for s in range(o.seeds)]
        all_of = unseen(ex, z, folds)
        print(f"{what}: each {[round(v, 4) for v in each]}, together {agreement(ex, all_of):.4f}, with the engine "
              f"{beside_engine(ex, all_of, engine)}, folds {[round(agreement(ex, all_of, [f]), 4) for f in range(5)]}; "
              f"{time.time()-start:.0f} s", flush=True)
        return all_of

    t.run(o.steps, 1e-3, rng, by_engine, until=start + o.until if o.until else None, say="by the engine")
    report("taught by the engine")
    t.run(2 * o.printed_steps, 4e-4, rng, by_print, need=m.clean > 0, stop=o.printed_steps, say="by print")
    all_of = report("taught by print")
    np.save(os.path.join(o.out, "unseen.npy"), all_of.half().cpu().numpy())
    upto = o.upto or m.n
    z = predict(net, ex, upto, shown=True)
    p = torch.zeros(6, upto, 5, device=DEVICE)
    for k in range(len(folds)):
        p[folds[k]] += z[k].softmax(-1) / o.seeds
    path = os.path.join(o.out, "teacher.u4.xz")
    with lzma.open(path, "wb", preset=1) as f:
        f.write(pack_nibbles(p.cpu().numpy()))
    log = dict(vars(o), parameters=parameters, sums=m.sums, strikes=upto, teacher=checksum(path), seconds=round(time.time() - start))
    with open(os.path.join(o.out, "teacher.json"), "w") as f:
        json.dump(log, f, indent=1)
    print(path, os.path.getsize(path), "bytes", checksum(path), f"{time.time()-start:.0f} s", flush=True)


main()
