"""Trains students: python3 student.py DATA KEPT OUT [--trials trials.json] [--groups 0,1,2,3,4,5] [--seeds 1].

KEPT is what `keep.py` keeps of the teachers. A student learns what they say beyond the engine: raw + beside ·
(log-probability by the engine) is held against the teachers. It learns from no digit, and from no score that carries
any. Writes for each trial, group and seed a table that the program reads (NAME-gG-sS.bin), and for a few strikes what
the floating network gives (NAME-sample.json), which a test of the program holds its integers against.
"""
import argparse
import json
import os
import time

import numpy as np
import torch

from data import Material, checksum, read_kept
from nets import DEVICE, Examples, Student, Training, autocast, beside_engine, engine_unseen, predict

PROVENANCE = ("trained by cmd/workbench/training/learned: student.py DATA kept.u8.xz OUT --trials shipped.json; "
              "sums are SHA-256")

PLAIN = dict(name="student", width=32, dilations=[1, 2], reach=2, hidden=1, drop=0.05, forget=0.02, neighbours=2,
             beside=0.8, seeds=0, steps=3000, rate=1.5e-3, decay=0.01, settle=0.6, batch=64, leave_out=[])


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
    rows = whole(net.table)
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
    a.add_argument("kept")
    a.add_argument("out")
    a.add_argument("--trials", default="", help="file with a list of settings, each beside the plain ones")
    a.add_argument("--groups", default="0,1,2,3,4,5")
    a.add_argument("--seeds", type=int, default=0, help="instead of the settings' own")
    a.add_argument("--seed", type=int, default=41)
    a.add_argument("--steps", type=int, default=0, help="instead of the settings' own")
    a.add_argument("--threads", type=int, default=0, help="processors at most, where there is no accelerator")
    a.add_argument("--until", type=float, default=0, help="seconds after which no other trial begins")
    o = a.parse_args()
    start = time.time()
    os.makedirs(o.out, exist_ok=True)
    m = Material(o.data)
    if o.threads:
        torch.set_num_threads(o.threads)
    tea, kept = read_kept(o.kept, m)
    print(f"{m.n} strikes, {kept.sum()} of them kept of the teachers; {time.time()-start:.0f} s", flush=True)
    tea = torch.tensor(tea, device=DEVICE, dtype=torch.float16)
    kept_here = torch.tensor(kept, device=DEVICE)
    trials = json.load(open(o.trials)) if o.trials else [{}]
    groups = [int(g) for g in o.groups.split(",")]
    everything = Examples(m)
    engine = engine_unseen(everything)
    shares = torch.tensor(m.shares, device=DEVICE)
    del everything
    for trial in trials:
        c = {**PLAIN, **trial}
        if o.steps:
            c["steps"] = o.steps
        if o.until and time.time() - start > o.until:
            print("out of time before", c["name"])
            break
        seeds = o.seeds or c["seeds"] or 1
        torch.manual_seed(o.seed)
        rng = np.random.default_rng(o.seed)
        folds = groups * seeds
        of = torch.tensor(folds, device=DEVICE)
        columns = chosen_columns(m, c)
        ex = Examples(m, columns)
        net = Student(len(folds), ex.rows, c["width"], c["dilations"], c["reach"], c["hidden"], c["drop"]).to(DEVICE)
        t = Training(net, folds, ex, c["batch"])

        def loss(idx, mask):
            with autocast():
                z = net(ex.hot(idx, jitter=True, forget=c["forget"]), mask)
            e = shares[:, idx][of].float() / 255
            z = (z + c["beside"] * e.clamp(min=1 / 400).log()).log_softmax(-1)
            w = (mask & kept_here[idx])[None].float()
            return (-(tea[:, idx][of].float() * z).sum(-1) * w).sum((1, 2)) / w.sum((1, 2)).clamp(min=20)

        t.run(c["steps"], c["rate"], rng, loss, decay=c["decay"], need=kept, settle_at=int(c["settle"] * c["steps"]), say=c["name"])
        size = ex.rows * c["width"] + sum(p.w.shape[1] * p.w.shape[2] for p in [*net.conv, *net.up, *net.down, net.out])
        with torch.no_grad():
            z = predict(net, ex, m.labelled)
        for s in range(seeds):
            raw = torch.zeros(m.labelled, 5, device=DEVICE)
            for k, f in enumerate(groups):
                if f < 5:
                    mine = ex.fold[: m.labelled] == f
                    raw[mine] = z[s * len(groups) + k][mine]
            folded = [f for f in groups if f < 5]
            said = f"folds {folded}: raw + a·engine {beside_engine(ex, raw, engine, folded)}" if folded else "no fold unseen"
            print(f"{c['name']} seed {s}: {size} numbers, {size - ex.rows*c['width']} products; {said}; "
                  f"{time.time()-start:.0f} s, {time.process_time():.0f} s of processors", flush=True)
            for k, f in enumerate(groups):
                name = os.path.join(o.out, f"{c['name']}-g{f}-s{s}")
                p = dict(name="learned", provenance=PROVENANCE, attribution=m.attribution, group=f, seed=o.seed, number=s,
                         settings=c, teacher=[checksum(o.kept)], data=m.sums)
                write_table(name + ".bin", net, s * len(groups) + k, m, columns, p)
        write_sample(os.path.join(o.out, c["name"] + "-sample.json"), net, ex, m, columns, len(groups) - 1, f"{c['name']}-g{groups[-1]}-s0.bin")


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
