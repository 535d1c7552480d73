"""Trains students: python3 student.py DATA TEACHER OUT [--trials trials.json] [--groups 0,1,2,3,4,5] [--seeds 1].

TEACHER is teacher.u4.xz (several, with commas between: their mean). A student learns what the teacher says beyond the
engine: raw + beside · (log-probability by the engine) is held against the teacher. Writes for each trial, group and
seed a table that the program reads (NAME-gG-sS.bin), and for a few strikes what the floating network gives
(NAME-gG-sS.json), which a test of the program holds its integers against.
"""
import argparse
import json
import lzma
import os
import time

import numpy as np
import torch
import torch.nn.functional as F

from data import Material, checksum, unpack_nibbles
from nets import (DEVICE, UNIT, Examples, Student, Training, agreement, autocast, beside_engine, engine_unseen, predict)

PROVENANCE = ("trained by cmd/workbench/training/learned: teacher.py DATA OUT, student.py DATA OUT/teacher.u4.xz OUT --trials "
              "shipped.json; sums are SHA-256")

PLAIN = dict(name="student", width=32, dilations=[1, 2], reach=2, hidden=1, drop=0.05, forget=0.02, neighbours=2,
             beside=0.8, seeds=0, steps=3000, rate=1.5e-3, decay=0.01, hard=0.0, settle=0.6, batch=64, leave_out=[])


def chosen_columns(m, c):
    """Columns that look no farther than so many events."""
    keep = []
    for k, (name, _) in enumerate(m.columns):
        words = name.split()
        far = words[0] in ("lowest", "highest", "keys") and words[-1] in ("ahead", "behind") and int(words[-2]) or 0
        if far <= c["neighbours"] and name not in c["leave_out"]:
            keep.append(k)
    return keep


def write_table(path, net, g, m, columns, provenance):
    """One network as whole numbers: a line of JSON, then bytes in the order of the layers."""
    whole = lambda layer: (layer.w[g].detach().float() * 2.0**layer.shift + 0.5).floor().clamp(-127, 127).to(torch.int8).cpu().numpy()
    table = whole(net.table)
    rows = np.concatenate([table[m.offsets[k] : m.offsets[k] + m.columns[k][1]] for k in columns])
    head = dict(provenance, columns=[m.columns[k] for k in columns], width=net.width, reach=net.reach,
                dilations=net.dilations, hidden=net.up[0].w.shape[2] if len(net.up) else 0,
                shifts=dict(table=net.table.shift, conv=[l.shift for l in net.conv], up=[l.shift for l in net.up],
                            down=[l.shift for l in net.down], out=net.out.shift))
    with open(path, "wb") as f:
        f.write(json.dumps(head, separators=(",", ":"), ensure_ascii=False).encode() + b"\n")
        f.write(rows.tobytes())
        for k in range(len(net.conv)):
            f.write(whole(net.conv[k]).tobytes())
            if len(net.up):
                f.write(whole(net.up[k]).tobytes())
                f.write(whole(net.down[k]).tobytes())
        f.write(whole(net.out).tobytes())


def main():
    a = argparse.ArgumentParser()
    a.add_argument("data")
    a.add_argument("teacher")
    a.add_argument("out")
    a.add_argument("--trials", default="", help="file with a list of settings, each beside the plain ones")
    a.add_argument("--groups", default="0,1,2,3,4,5")
    a.add_argument("--seeds", type=int, default=1)
    a.add_argument("--seed", type=int, default=41)
    a.add_argument("--steps", type=int, default=0, help="instead of the settings' own")
    a.add_argument("--until", type=float, default=0, help="seconds after which no other trial begins")
    o = a.parse_args()
    start = time.time()
    os.makedirs(o.out, exist_ok=True)
    m = Material(o.data)
    files = o.teacher.split(",")
    tea = sum(unpack_nibbles(lzma.open(f).read(), (6, m.n, 5)) for f in files) / len(files)
    tea = torch.tensor(tea, device=DEVICE, dtype=torch.float16)
    trials = json.load(open(o.trials)) if o.trials else [{}]
    groups = [int(g) for g in o.groups.split(",")]
    everything = Examples(m)
    engine = engine_unseen(everything)
    shares = torch.tensor(m.shares, device=DEVICE)
    del everything
    print(f"{m.n} strikes; teacher alone {say_teacher(m, tea, engine)}; {time.time()-start:.0f} s", flush=True)
    for trial in trials:
        c = {**PLAIN, **trial}
        if o.steps:
            c["steps"] = o.steps
        if o.until and time.time() - start > o.until:
            print("out of time before", c["name"])
            break
        seeds = c["seeds"] or o.seeds
        torch.manual_seed(o.seed)
        rng = np.random.default_rng(o.seed)
        folds = groups * seeds
        of = torch.tensor(folds, device=DEVICE)
        columns = chosen_columns(m, c)
        ex = Examples(m, columns)
        net = Student(len(folds), m.rows, c["width"], c["dilations"], c["reach"], c["hidden"], c["drop"]).to(DEVICE)
        t = Training(net, folds, ex, c["batch"])

        def loss(idx, mask):
            with autocast():
                z = net(ex.hot(idx, jitter=True, forget=c["forget"]), mask)
            e = shares[:, idx][of].float() / 255
            z = (z + c["beside"] * e.clamp(min=1 / 400).log()).log_softmax(-1)
            w = t.seen(idx, mask).float()
            l = (-(tea[:, idx][of].float() * z).sum(-1) * w).sum((1, 2)) / w.sum((1, 2)).clamp(min=20)
            if c["hard"]:
                clean = ex.clean[idx]
                v = w * (clean > 0)[None]
                y = F.one_hot((clean - 1).clamp(min=0), 5).float() * 0.9 + 0.02
                l = l + c["hard"] * (-(y[None] * z).sum(-1) * v).sum((1, 2)) / 300
            return l

        t.run(c["steps"], c["rate"], rng, loss, decay=c["decay"], settle_at=int(c["settle"] * c["steps"]), say=c["name"])
        rows = sum(m.columns[k][1] for k in columns)
        size = rows * c["width"] + sum(p.w.shape[1] * p.w.shape[2] for p in [*net.conv, *net.up, *net.down, net.out])
        with torch.no_grad():
            z = predict(net, ex, m.labelled)
        for s in range(seeds):
            raw = torch.zeros(m.labelled, 5, device=DEVICE)
            for k, f in enumerate(groups):
                if f < 5:
                    mine = ex.fold[: m.labelled] == f
                    raw[mine] = z[s * len(groups) + k][mine]
            print(f"{c['name']} seed {s}: {size} numbers, {size - rows*c['width']} products; raw + a·engine "
                  f"{beside_engine(ex, raw, engine)}; {time.time()-start:.0f} s", flush=True)
            for k, f in enumerate(groups):
                name = os.path.join(o.out, f"{c['name']}-g{f}-s{s}")
                p = dict(name="learned", provenance=PROVENANCE, attribution=m.attribution, group=f, seed=o.seed, number=s,
                         settings=c, teacher=[checksum(x) for x in files], data=m.sums)
                write_table(name + ".bin", net, s * len(groups) + k, m, columns, p)
        write_sample(os.path.join(o.out, c["name"] + "-sample.json"), net, ex, m, columns, len(groups) - 1, f"{c['name']}-g{groups[-1]}-s0.bin")


def say_teacher(m, tea, engine):
    y, f = torch.tensor(m.clean[: m.labelled], device=DEVICE), torch.tensor(m.fold[: m.labelled], device=DEVICE)
    p = torch.zeros(m.labelled, 5, device=DEVICE)
    for k in range(5):
        p[f == k] = tea[k, : m.labelled][f == k].float()
    right = lambda q: round((q.argmax(-1) + 1 == y)[y > 0].float().mean().item(), 4)
    return right(p), "beside the engine", max((right(p.clamp(min=0.01).log() + a * engine), a) for a in (0.3, 0.5, 0.7, 1, 1.4, 2))


def write_sample(path, net, ex, m, columns, g, table):
    """The first lines whole: their columns, as the program counts them, and the floating outputs."""
    net.eval()
    lines = [k for k in range(len(m.first)) if 20 <= m.length[k] <= 100][:6]
    out = []
    for k in lines:
        idx = torch.arange(int(m.first[k]), int(m.first[k] + m.length[k]), device=DEVICE)[None]
        with torch.no_grad():
            z = net(ex.hot(idx).float(), torch.ones_like(idx, dtype=torch.bool))[g, 0]
        x = m.x[m.first[k] : m.first[k] + m.length[k]][:, columns] - m.offsets[columns]
        out.append(dict(columns=x.tolist(), outputs=[[round(v, 4) for v in r] for r in z.tolist()]))
    with open(path, "w") as f:
        json.dump(dict(table=table, lines=out), f)


main()
