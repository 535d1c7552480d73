"""Networks in groups: one pass trains the networks of all folds side by side, each on the strikes that it may see."""
import math
import os
import time

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

DEVICE = "cuda" if torch.cuda.is_available() else "cpu"
WINDOW = 128  # strikes of one example


class Linear(nn.Module):
    """[groups, tokens, inputs] → [groups, tokens, outputs]."""

    def __init__(self, groups, inputs, outputs, scale=1.0, bias=True):
        super().__init__()
        self.w = nn.Parameter(torch.randn(groups, inputs, outputs) * scale / math.sqrt(inputs))
        self.b = nn.Parameter(torch.zeros(groups, 1, outputs)) if bias else None

    def forward(self, x):
        y = torch.bmm(x, self.w.to(x.dtype))
        return y if self.b is None else y + self.b.to(x.dtype)


class Norm(nn.Module):
    def __init__(self, groups, width):
        super().__init__()
        self.g, self.b = nn.Parameter(torch.ones(groups, 1, width)), nn.Parameter(torch.zeros(groups, 1, width))

    def forward(self, x):
        return (F.layer_norm(x.float(), x.shape[-1:]) * self.g + self.b).to(x.dtype)


def spread(x, b, reach, dilation, mask):
    """The neighbours of each token side by side: [groups, b·t, width] → [groups, b·t, (2·reach+1)·width]."""
    g, _, width = x.shape
    t = x.shape[1] // b
    x = x.view(g, b, t, width) * mask.view(1, b, t, 1).to(x.dtype)
    pad = reach * dilation
    x = F.pad(x, (0, 0, pad, pad))
    return torch.cat([x[:, :, k * dilation : k * dilation + t] for k in range(2 * reach + 1)], -1).reshape(g, b * t, -1)


class TeacherBlock(nn.Module):
    """Attention over the window, or a convolution over five tokens; then a perceptron."""

    def __init__(self, groups, width, kind, drop, heads=4):
        super().__init__()
        self.kind, self.heads, self.drop = kind, heads, drop
        self.n1, self.n2 = Norm(groups, width), Norm(groups, width)
        if kind == "a":
            self.qkv, self.o = Linear(groups, width, 3 * width), Linear(groups, width, width, 0.5)
            self.place = nn.Parameter(torch.zeros(groups, heads, 2 * WINDOW - 1))
            r = torch.arange(WINDOW)
            self.register_buffer("rel", r[None] - r[:, None] + WINDOW - 1, persistent=False)
        else:
            self.c = Linear(groups, 5 * width, width, 0.5)
        self.a, self.b = Linear(groups, width, 2 * width), Linear(groups, 2 * width, width, 0.5)

    def forward(self, x, mask):
        b, t = mask.shape
        g, _, width = x.shape
        h = self.n1(x)
        if self.kind == "a":
            q, k, v = self.qkv(h).view(g, b, t, 3, self.heads, width // self.heads).permute(3, 0, 1, 4, 2, 5)
            bias = self.place[:, :, self.rel[:t, :t]].to(q.dtype)[:, None]
            bias = bias.masked_fill(~mask[None, :, None, None, :], -1e4)
            s = torch.einsum("gbhtc,gbhsc->gbhts", q, k) / math.sqrt(width // self.heads) + bias
            s = F.dropout(s.softmax(-1), self.drop, self.training)
            h = self.o(torch.einsum("gbhts,gbhsc->gbthc", s, v).reshape(g, b * t, width))
        else:
            h = F.gelu(self.c(spread(h, b, 2, int(self.kind), mask)))
        x = x + F.dropout(h, self.drop, self.training)
        h = self.b(F.dropout(F.gelu(self.a(self.n2(x))), self.drop, self.training))
        return x + F.dropout(h, self.drop, self.training)


class Teacher(nn.Module):
    """rows + 5 inputs: the last five are a printed digit that is shown."""

    def __init__(self, groups, rows, width=256, body="1a2a1a", drop=0.2):
        super().__init__()
        self.drop = drop
        self.table = Linear(groups, rows + 6, width, scale=0.7 * math.sqrt(rows / 30))
        self.body = nn.ModuleList([TeacherBlock(groups, width, k, drop) for k in body])
        self.norm, self.out = Norm(groups, width), Linear(groups, width, 5, 0.5)

    def forward(self, hot, mask):
        g = self.table.w.shape[0]
        x = F.dropout(self.table(hot[None].expand(g, -1, -1)), self.drop, self.training)
        for block in self.body:
            x = block(x, mask)
        return self.out(self.norm(x)).float().view(g, *mask.shape, 5)


# The student computes in steps that integers can take: table and weights are whole numbers of 2^-shift from −127 to
# 127, what passes from layer to layer is 0 to 127 parts of UNIT.
UNIT = 32.0
TOP = 127.0


class Rounding(torch.autograd.Function):
    """To the nearest whole number, halves up, as the program does; the gradient passes as if nothing were rounded."""

    @staticmethod
    def forward(ctx, x):
        return (x + 0.5).floor()

    @staticmethod
    def backward(ctx, g):
        return g


def activation(x, exact):
    """Clipped from 0 to TOP/UNIT; exact rounds to parts of UNIT."""
    x = x.clamp(0, TOP / UNIT)
    return Rounding.apply(x * UNIT) / UNIT if exact else x


class Whole(nn.Module):
    """A linear map whose weights become whole numbers of 2^-shift once shift is set."""

    def __init__(self, groups, inputs, outputs, scale):
        super().__init__()
        self.w = nn.Parameter(torch.randn(groups, inputs, outputs) * scale / math.sqrt(inputs))
        self.shift = None

    def settle(self):
        """Takes the finest step that holds the weights of every group but the outermost of ten thousand."""
        with torch.no_grad():
            w = self.w.detach().abs().reshape(-1)
            most = float(torch.sort(w)[0][int(0.9999 * (len(w) - 1))])
            self.shift = int(min(max(math.floor(math.log2(TOP / max(most, 1e-6))), 2), 9))

    def weights(self):
        if self.shift is None:
            return self.w
        unit = 2.0**self.shift
        return (Rounding.apply(self.w * unit).clamp(-TOP, TOP)) / unit

    def forward(self, x):
        return torch.bmm(x, self.weights().to(x.dtype))


class Student(nn.Module):
    """A table of rows, summed; then for each dilation a convolution over 2·reach+1 tokens and, where hidden is not 0, a
    perceptron; five outputs. pairs adds 25 outputs for the step to the next strike."""

    def __init__(self, groups, rows, width=32, dilations=(1, 2), reach=2, hidden=1, drop=0.05, pairs=False):
        super().__init__()
        self.width, self.dilations, self.reach, self.drop, self.exact = width, tuple(dilations), reach, drop, False
        self.table = Whole(groups, rows, width, 0.7 * math.sqrt(rows / 40))
        self.conv = nn.ModuleList([Whole(groups, (2 * reach + 1) * width, width, 0.7) for _ in dilations])
        self.up = nn.ModuleList([Whole(groups, width, hidden * width, 1.0) for _ in dilations] if hidden else [])
        self.down = nn.ModuleList([Whole(groups, hidden * width, width, 0.5) for _ in dilations] if hidden else [])
        self.out = Whole(groups, width, 5, 0.3)

    def settle(self):
        for m in self.modules():
            if isinstance(m, Whole):
                m.settle()
        self.exact = True

    def forward(self, hot, mask):
        g, b = self.table.w.shape[0], mask.shape[0]
        r = self.table(hot[None].expand(g, -1, -1)).float()
        r = F.dropout(r, self.drop, self.training)
        for k, dilation in enumerate(self.dilations):
            r = r + self.conv[k](spread(activation(r, self.exact), b, self.reach, dilation, mask)).float()
            if len(self.up):
                h = activation(self.up[k](activation(r, self.exact)).float(), self.exact)
                r = r + self.down[k](h).float()
        return self.out(activation(r, self.exact)).float().view(g, *mask.shape, 5)


class Examples:
    """Windows of the material on the device."""

    def __init__(self, material, columns=None):
        self.m = material
        columns = list(range(len(material.columns))) if columns is None else columns
        sizes = [material.columns[k][1] for k in columns]
        first = np.concatenate([[0], np.cumsum(sizes)[:-1]])  # rows of the columns that are left out are, too
        self.x = torch.tensor(material.x[:, columns] - (material.offsets[columns] - first).astype(np.int16), device=DEVICE)
        put = lambda a: torch.tensor(a, device=DEVICE)
        self.clean, self.given, self.fold, self.hidden = (
            put(a) for a in (material.clean, material.given, material.fold, material.hidden))
        self.n, self.rows = material.n, int(sum(sizes))
        self.times = []
        for name in ("time to the next event", "time from the event before", "duration"):
            k, _, size = material.column(name)
            if k in columns:
                self.times.append((columns.index(k), int(first[columns.index(k)]), size))

    def windows(self, rng, need=None, length=WINDOW):
        """First strike and length of windows at random offsets; need: only those that hold one of these strikes."""
        out = []
        sums = np.concatenate([[0], np.cumsum(need)]) if need is not None else None
        for a, n in zip(self.m.first, self.m.length):
            b = a + n
            if n < 4:
                continue
            starts = [a] if n <= length else range(int(a - rng.integers(0, length - 16)), int(b), length)
            for s in starts:
                lo, hi = max(a, s), min(s + length, b)
                if hi - lo < 4 or sums is not None and sums[hi] == sums[lo]:
                    continue
                out.append((lo, hi - lo))
        return np.array(out)

    def batch(self, windows):
        first, length = (torch.tensor(np.ascontiguousarray(windows[:, k]), device=DEVICE) for k in (0, 1))
        t = torch.arange(WINDOW, device=DEVICE)[None]
        mask = t < length[:, None]
        return torch.where(mask, first[:, None] + t, torch.zeros_like(t)), mask

    def hot(self, idx, shown=None, jitter=False, forget=0.0):
        """One row of zeros and ones a token. jitter moves all times of a window by one class; forget leaves columns
        out at random."""
        b, t = idx.shape
        x = self.x[idx].long()
        if jitter:
            by = torch.randint(-1, 2, (b, 1), device=DEVICE) * (torch.rand(b, 1, device=DEVICE) < 0.5)
            for k, first, size in self.times:
                v = x[:, :, k] - first
                x[:, :, k] = torch.where((v > 0) & (v < size - 1), (v + by).clamp(1, size - 2), v) + first
        dummy = self.rows
        if forget:
            x = torch.where(torch.rand(x.shape, device=DEVICE) < forget, torch.full_like(x, dummy), x)
        extra = 6 if shown is not None else 1
        hot = torch.zeros(b * t, self.rows + extra, device=DEVICE, dtype=torch.bfloat16 if DEVICE == "cuda" else torch.float32)
        hot.scatter_(1, x.view(b * t, -1), 1)
        if shown is not None:
            hot.scatter_(1, torch.where(shown > 0, shown + dummy, torch.full_like(shown, dummy)).view(-1, 1), 1)
            hot[:, dummy] = 0
            return hot
        return hot[:, :dummy]


def limit_gradients(params, groups, most=1.0):
    total = torch.zeros(groups, device=DEVICE)
    for p in params:
        if p.grad is not None:
            total += p.grad.reshape(groups, -1).float().pow(2).sum(1)
    scale = (most / (total.sqrt() + 1e-6)).clamp(max=1)
    for p in params:
        if p.grad is not None:
            p.grad.mul_(scale.view(groups, *([1] * (p.dim() - 1))))


def autocast():
    return torch.autocast("cuda", dtype=torch.bfloat16) if DEVICE == "cuda" else torch.autocast("cpu", enabled=False)


class Training:
    """One network in groups, with AdamW, a cosine of the rate, and the average of the late weights in the end."""

    def __init__(self, net, folds, examples, batch=64):
        self.net, self.ex, self.batch = net, examples, batch
        self.folds = torch.tensor(folds, device=DEVICE)
        self.params = [p for p in net.parameters() if p.requires_grad]

    def run(self, steps, rate, rng, loss, decay=0.02, need=None, until=None, stop=0, ema=0.995, settle_at=None, say=""):
        """loss(idx, mask) gives a loss for each group."""
        groups, start = len(self.folds), time.time()
        opt = torch.optim.AdamW(self.params, lr=rate, weight_decay=decay, betas=(0.9, 0.98))
        mean = [p.detach().clone() for p in self.params]
        windows, at, total, it = [], 0, torch.zeros(groups, device=DEVICE), 0
        self.net.train()
        for it in range(stop or steps):
            if at + self.batch > len(windows):
                windows = self.ex.windows(rng, need)
                windows, at = windows[rng.permutation(len(windows))], 0
            idx, mask = self.ex.batch(windows[at : at + self.batch])
            at += self.batch
            if settle_at is not None and it == settle_at:
                self.net.settle()
            for g in opt.param_groups:
                g["lr"] = rate * min(1, (it + 1) / max(1, min(100, steps // 10))) * (0.5 + 0.5 * math.cos(math.pi * it / steps))
            l = loss(idx, mask)
            opt.zero_grad(set_to_none=True)
            l.sum().backward()
            limit_gradients(self.params, groups)
            opt.step()
            total += l.detach()
            d = min(ema, 1 - 1 / (it / 4 + 1.5))
            for m, p in zip(mean, self.params):
                m.mul_(d).add_(p.detach(), alpha=1 - d)
            if until and time.time() > until:
                print(say, "out of time", flush=True)
                break
        with torch.no_grad():
            for p, m in zip(self.params, mean):
                p.copy_(m)
        print(say, "steps", it + 1, "loss", [round(v, 3) for v in (total / (it + 1)).tolist()][:6], f"{time.time()-start:.0f} s", flush=True)

    def seen(self, idx, mask):
        """Which tokens each group may learn from: [groups, b, t]."""
        return (self.ex.fold[idx][None] != self.folds[:, None, None]) & mask[None]


@torch.no_grad()
def predict(net, ex, upto, shown=False, batch=256, lines=None):
    """What the network gives for the strikes below upto: [groups, upto, 5], float."""
    net.eval()
    edge, out = WINDOW // 4, None
    windows = []
    for a, n in zip(ex.m.first, ex.m.length):
        if a >= upto:
            break
        b, s = a + n, a
        while True:
            e = min(s + WINDOW, b)
            windows.append((s, e - s, 0 if s == a else edge, e - s if e == b else WINDOW - edge))
            if e == b:
                break
            s += WINDOW - 2 * edge
    windows = np.array(windows)
    for i in range(0, len(windows), batch):
        w = windows[i : i + batch]
        idx, mask = ex.batch(w[:, :2])
        hot = ex.hot(idx, shown=torch.zeros_like(idx) if shown else None)
        with autocast():
            z = net(hot, mask)
        if out is None:
            out = torch.zeros(z.shape[0], upto, 5, device=DEVICE)
        t = torch.arange(WINDOW, device=DEVICE)[None]
        lo, hi = (torch.tensor(np.ascontiguousarray(w[:, k]), device=DEVICE)[:, None] for k in (2, 3))
        keep = (t >= lo) & (t < hi)
        out[:, idx[keep]] = z[:, keep]
    return out


def unseen(ex, logits, folds):
    """For each fingered strike the logits of the groups that have not seen its fold, as the mean of their probabilities:
    log-probabilities [labelled, 5]."""
    n = ex.m.labelled
    out = torch.zeros(n, 5, device=DEVICE)
    for f in range(5):
        mine = [k for k, x in enumerate(folds) if x == f]
        if mine:
            m = ex.fold[:n] == f
            out[m] = logits[mine][:, :n][:, m].log_softmax(-1).exp().mean(0)
    return out.clamp(min=1e-6).log()


def engine_unseen(ex):
    """The engine's log-probabilities with the table that has not seen the fold: [labelled, 5]."""
    n = ex.m.labelled
    shares = torch.tensor(ex.m.shares[:5, :n].astype(np.float32) / 255, device=DEVICE)
    p = torch.zeros(n, 5, device=DEVICE)
    for f in range(5):
        m = ex.fold[:n] == f
        p[m] = shares[f][m]
    return p.clamp(min=1 / 400).log()


def agreement(ex, score, folds=range(5)):
    """Share of the clean digits of some folds at which score is highest."""
    y = ex.clean[: ex.m.labelled]
    m = (y > 0) & torch.isin(ex.fold[: ex.m.labelled], torch.tensor(list(folds), device=DEVICE, dtype=torch.long))
    return (score.argmax(-1) + 1 == y)[m].float().mean().item()


def beside_engine(ex, score, engine, folds=range(5)):
    """Best agreement of score + a·engine, and a."""
    return max((round(agreement(ex, score + a * engine, folds), 4), a) for a in (0, 0.3, 0.5, 0.7, 0.85, 1, 1.2, 1.5, 2, 2.5))
