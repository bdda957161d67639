"""Small direct-current networks of our own, written down as data and as circuit decks.

Invented: no such vehicle or boat. Node 0 is the zero. Demands are constant power ("watts"), current ("amperes") or
resistance ("ohms"); sources may have a limit and be one-way; converters regulate their output and take
output / efficiency + no_load at their input.
"""


class Net:
    def __init__(self, nodes):
        self.nodes = nodes
        self.branches, self.sources, self.demands, self.converters = [], [], [], []

    def line(self, one, other, ohms, **more):
        self.branches.append({"nodes": [one, other], "ohms": ohms, **more})
        return self

    def source(self, plus, minus, emf, ohms, **more):
        self.sources.append({"nodes": [plus, minus], "emf": emf, "ohms": ohms, **more})
        return self

    def demand(self, plus, minus, **kind):
        self.demands.append({"nodes": [plus, minus], **kind})
        return self

    def converter(self, input, output, volts, efficiency, no_load, ohms=1e-3, **more):
        self.converters.append(
            {"input": input, "output": output, "volts": volts, "ohms": ohms, "efficiency": efficiency,
             "no_load": no_load, **more})
        return self

    def data(self):
        return {"nodes": self.nodes, "branches": self.branches, "sources": self.sources, "demands": self.demands,
                "converters": self.converters}


def radial(nodes):
    """A tree below node 1: even nodes on the node of half their number, odd ones on the one before."""
    net = Net(nodes + 1).source(1, 0, 25.6, 1e-3)
    for node in range(2, nodes + 1):
        net.line(node // 2 if node % 2 == 0 else node - 1, node, 2e-3 * node / 16.0)
        net.demand(node, 0, watts=2400.0 * (1.0 + node % 7) / (4.0 * nodes))
    return net


def bank(diagonal):
    """Four batteries in parallel along two rails, 100 A taken at one end or diagonally."""
    net = Net(8)  # battery k: plus 1 + 2k, minus 2k
    for k in range(4):
        net.source(2 * k + 1, 2 * k, 12.8, 6e-3)
    for k in range(3):
        net.line(2 * k + 1, 2 * k + 3, 1.5e-3).line(2 * k, 2 * k + 2, 1.5e-3)
    return net.demand(1, 6 if diagonal else 0, amperes=100.0)


def splitter(drop, charging):
    """One alternator, two batteries behind diodes."""
    net = Net(5).line(1, 2, 2e-3, drop=drop, one_way=True).line(1, 3, 2e-3, drop=drop, one_way=True)
    net.source(2, 0, 12.4, 5e-3).source(3, 0, 12.9, 6e-3).line(3, 4, 8e-3).demand(4, 0, watts=300.0)
    net.source(1, 0, 14.6 if charging else 12.0, 2e-3, limit=60.0, one_way=True)
    return net.demand(2, 0, amperes=8.0)


def van():
    """Sixty nodes: two batteries, an alternator at its limit, a ring of bars, two converters, chassis as nodes."""
    net = Net(60)
    # 0 negative of the service battery; 1 its positive; 2, 3 starter battery; 4, 5 alternator; 6 to 9 ring of bars;
    # 10 to 13 chassis points in a row; 14 to 17 low-voltage bar; 18 engine bar; 20 to 25 converters' terminals.
    for one, other, milliohms in [
        (1, 6, 0.6), (0, 10, 0.5), (3, 18, 0.8), (2, 13, 0.4), (5, 18, 0.9), (4, 13, 0.5), (18, 19, 0.7), (6, 7, 0.9),
        (7, 8, 1.1), (8, 9, 1.0), (9, 6, 1.3), (10, 11, 0.9), (11, 12, 1.1), (12, 13, 1.0), (14, 16, 2.0), (15, 17, 2.0),
        (20, 6, 1.2), (21, 10, 1.2), (22, 8, 1.5), (23, 12, 1.5), (24, 18, 2.5), (25, 13, 2.5), (15, 12, 3.0),
    ]:
        net.line(one, other, milliohms * 1e-3)
    for circuit in range(17):
        plus, minus = 26 + 2 * circuit, 27 + 2 * circuit
        start, back = (6 + circuit % 4, 10 + circuit % 4) if circuit < 13 else (16, 17)
        light = 1.0 if circuit < 13 else 0.1
        net.line(start, plus, (8.0 + 3.0 * circuit) * 1e-3).line(back, minus, (8.0 + 3.0 * circuit) * 1e-3)
        net.demand(plus, minus, **[{"watts": light * (30.0 + 5.0 * circuit)}, {"amperes": light * (2.0 + 0.5 * circuit)},
                                   {"ohms": 4.0}][circuit % 3])
    net.source(1, 0, 13.1, 4e-3).source(3, 2, 12.6, 6e-3).source(5, 4, 14.2, 1e-3, limit=50.0, one_way=True)
    net.converter([24, 25], [20, 21], 14.4, 0.92, 3.0, limit=40.0)
    net.converter([22, 23], [14, 15], 5.2, 0.88, 1.0, limit=30.0)
    return net.demand(19, 13, amperes=12.0)


def chassis():
    """Three loads that share 20 milliohms of chassis between them."""
    net = Net(9).source(1, 0, 12.7, 8e-3).line(1, 2, 2e-3).line(0, 3, 6e-3).line(3, 4, 8e-3).line(4, 5, 6e-3)
    net.line(2, 6, 20e-3).line(2, 7, 15e-3).line(2, 8, 30e-3)
    return net.demand(6, 3, watts=120.0).demand(7, 4, ohms=0.9).demand(8, 5, watts=180.0)


def all_networks():
    nets = {
        "battery and lamp": Net(2).source(1, 0, 12.6, 10e-3).demand(1, 0, ohms=2.4),
        "constant current": Net(3).source(1, 0, 12.6, 10e-3).line(1, 2, 30e-3).demand(2, 0, amperes=20.0),
        "constant power": Net(3).source(1, 0, 12.8, 4e-3).line(1, 2, 26e-3).demand(2, 0, watts=500.0),
        "near collapse": Net(3).source(1, 0, 12.0, 10e-3).line(1, 2, 90e-3).demand(2, 0, watts=356.4),
        "nearer collapse": Net(3).source(1, 0, 12.0, 10e-3).line(1, 2, 90e-3).demand(2, 0, watts=359.64),
        "ladder": Net(4).source(1, 0, 25.6, 5e-3).line(1, 2, 25e-3).line(2, 3, 30e-3).demand(2, 0, watts=400.0)
        .demand(3, 0, watts=250.0),
        "several roots": Net(5).source(1, 0, 12.2, 5e-3).line(1, 2, 15e-3).line(2, 3, 150e-3).line(2, 4, 200e-3)
        .demand(2, 0, watts=30.0).demand(3, 0, watts=150.0).demand(4, 0, watts=100.0),
        "unequal legs": Net(4).source(1, 0, 12.8, 4e-3).source(2, 0, 12.8, 4e-3).line(1, 3, 1e-3).line(2, 3, 5e-3)
        .demand(3, 0, amperes=150.0),
        "batteries that differ": Net(4).source(1, 0, 12.8, 4e-3).source(2, 0, 12.4, 8e-3).line(1, 3, 1e-3)
        .line(2, 3, 1e-3).demand(3, 0, watts=60.0),
        "bank, one end": bank(False),
        "bank, diagonal": bank(True),
        "ring": Net(5).source(1, 0, 24.8, 6e-3).line(1, 2, 10e-3).line(2, 3, 12e-3).line(3, 4, 9e-3).line(4, 1, 20e-3)
        .demand(2, 0, watts=200.0).demand(3, 0, watts=350.0).demand(4, 0, amperes=6.0),
        "chassis return": chassis(),
        "series bank, tapped": Net(4).source(1, 0, 12.7, 5e-3).source(2, 1, 12.7, 5e-3).line(2, 3, 4e-3)
        .demand(3, 0, watts=600.0).demand(1, 0, amperes=9.0),
        "alternator holds": Net(4).source(1, 0, 14.2, 1e-3, limit=80.0, one_way=True).source(2, 0, 13.3, 12e-3)
        .line(1, 3, 3e-3).line(2, 3, 4e-3).demand(3, 0, amperes=10.0),
        "alternator at its limit": Net(4).source(1, 0, 14.2, 1e-3, limit=80.0, one_way=True).source(2, 0, 12.6, 6e-3)
        .line(1, 3, 3e-3).line(2, 3, 4e-3).demand(3, 0, watts=1500.0),
        "diodes, charging": splitter(0.8, True),
        "diodes, discharging": splitter(0.45, False),
        "inverter at its input limit": Net(3).source(1, 0, 12.2, 8e-3).line(1, 2, 12e-3)
        .demand(2, 0, watts=1200.0, limit=110.0),
        "buck on a shared return": Net(7).source(1, 0, 25.2, 8e-3).line(1, 2, 6e-3).line(0, 3, 6e-3)
        .converter([2, 3], [4, 3], 12.5, 0.92, 2.0, limit=20.0).line(4, 5, 20e-3).line(3, 6, 9e-3)
        .demand(5, 3, watts=120.0).demand(2, 6, amperes=4.0),
        "three voltages": Net(8).source(1, 0, 51.2, 10e-3).line(1, 2, 20e-3)
        .converter([2, 0], [3, 0], 24.5, 0.94, 4.0, limit=60.0).line(3, 4, 10e-3)
        .converter([4, 0], [5, 0], 12.3, 0.9, 2.0, limit=40.0).line(5, 6, 25e-3).demand(6, 0, watts=200.0)
        .demand(4, 0, watts=300.0).line(4, 7, 30e-3).demand(7, 0, ohms=5.0),
        "charger": Net(6).source(1, 0, 14.2, 1e-3, one_way=True).line(1, 2, 12e-3).line(0, 3, 12e-3)
        .converter([2, 3], [4, 0], 14.4, 0.91, 5.0, limit=50.0).line(4, 5, 5e-3).source(5, 0, 13.0, 4e-3)
        .demand(5, 0, watts=80.0),
        "charger at its input limit": Net(6).source(1, 0, 12.9, 6e-3).line(1, 2, 18e-3).line(0, 3, 18e-3)
        .converter([2, 3], [4, 0], 14.4, 0.9, 5.0, limit=50.0, input_limit=40.0).line(4, 5, 5e-3)
        .source(5, 0, 13.0, 4e-3),
        "sun and battery": Net(5).source(1, 0, 13.1, 6e-3).line(1, 2, 3e-3).source(3, 0, 14.4, 2e-3, limit=22.0, one_way=True)
        .line(3, 2, 10e-3).line(2, 4, 40e-3).demand(4, 0, watts=45.0),
        "van": van(),
    }
    for nodes in (10, 100, 1000):
        nets[f"radial {nodes}"] = radial(nodes)
    return nets


def guess(net):
    """Voltages to start from: every node at what its sources leave it without load."""
    at = {0: 0.0}
    links = [(b["nodes"], 0.0) for b in net.branches]
    links += [(s["nodes"], s["emf"]) for s in net.sources]
    links += [(c["output"], c["volts"]) for c in net.converters]
    around = {}
    for (one, other), rise in links:
        around.setdefault(one, []).append((other, -rise))
        around.setdefault(other, []).append((one, rise))
    left = [0]
    while left:
        node = left.pop()
        for there, rise in around.get(node, []):
            if there not in at:
                at[there] = at[node] + rise
                left.append(there)
    return at


def deck(net):
    """The network as a circuit deck; behavioural current sources where there is no simpler element."""
    lines, count = ["* network"], 0

    def current(frm, to, expression):
        nonlocal count
        count += 1
        lines.append(f"B{count} n{frm} n{to} I={expression}")

    def held(s, volts, v):
        value = f"({volts!r}-{v})/{s['ohms']!r}"
        if s.get("one_way", True):
            value = f"max(0,{value})"
        return f"min({s['limit']!r},{value})" if "limit" in s else value

    for index, b in enumerate(net.branches):
        one, other = b["nodes"]
        over = f"(V(n{one},n{other})-{b.get('drop', 0.0)!r})/{b['ohms']!r}"
        if b.get("one_way"):
            current(one, other, f"max(0,{over})")
        elif "drop" in b:
            current(one, other, over)
        else:
            lines.append(f"R{index} n{one} n{other} {b['ohms']!r}")
    for index, s in enumerate(net.sources):
        plus, minus = s["nodes"]
        if "limit" in s or s.get("one_way"):
            current(minus, plus, held({"one_way": False, **s}, s["emf"], f"V(n{plus},n{minus})"))
        else:
            lines.append(f"V{index} e{index} n{minus} {s['emf']!r}")
            lines.append(f"RE{index} e{index} n{plus} {s['ohms']!r}")
    for index, d in enumerate(net.demands):
        plus, minus = d["nodes"]
        if "watts" in d:
            value = f"{d['watts']!r}/V(n{plus},n{minus})"
            current(plus, minus, f"min({d['limit']!r},{value})" if "limit" in d else value)
        elif "amperes" in d:
            lines.append(f"I{index} n{plus} n{minus} {d['amperes']!r}")
        else:
            lines.append(f"RD{index} n{plus} n{minus} {d['ohms']!r}")
    for c in net.converters:
        (a, b), (p, m) = c["input"], c["output"]
        v, u, r = f"V(n{a},n{b})", f"V(n{p},n{m})", c["ohms"]
        out = held(c, c["volts"], u)
        if "input_limit" in c:
            given = f"max(0,({v}*{c['input_limit']!r}-{c['no_load']!r})*{c['efficiency']!r})"
            out = f"min({out},2*{given}/({u}+sqrt({u}*{u}+{4 * r!r}*{given})))"
        current(m, p, out)
        current(a, b, f"({out}*({u}+{r!r}*{out})/{c['efficiency']!r}+{c['no_load']!r})/{v}")
    text = "\n".join(lines).replace("n0 ", "0 ").replace("n0,", "0,").replace("n0)", "0)")
    return text
