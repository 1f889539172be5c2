"""A fault model as a general Bayes network, for a general library (pyagrum) to work out.

The network is written from the model's meaning, not from our arithmetic: the fault is the root, a test hangs on it and
on what silences it, and of tests with a shared cause a switch says whether the cause decides, and its strength how they
come out. The strength is even from 0 to 1, cut where any of them changes.
"""

from itertools import pairwise, product

import pyagrum as gum


def share_together(count: int, counts_as: float) -> float:
    """The share of cases that one cause decides: by halving, so that the tests, nine to one each, count as told."""
    low, high = 0.0, 1.0
    for _ in range(200):
        share = (low + high) / 2
        good, bad = ((1 - share) * chance**count + share * chance for chance in (0.9, 0.1))
        low, high = (share, high) if good / bad > 9.0**counts_as else (low, share)
    return low


class Network:
    """A model as a general network."""

    def __init__(self, model, absent=()):
        self.model, self.net = model, gum.BayesNet()
        self.faults = [*model.faults, None]
        self.net.add(gum.LabelizedVariable("fault", "", len(self.faults)))
        listed = [0.0 if fault in absent else model.prior[fault] for fault in model.faults]
        scaled = [chance * (1 - model.leftover) / sum(listed) for chance in listed]
        self.net.cpt("fault").fillWith([*scaled, model.leftover])
        for test in model.tests:
            self.net.add(gum.LabelizedVariable(test.name, "", len(test.outcomes)))
        groups = {name: group for group in model.groups for name in group.tests}
        for n, group in enumerate(model.groups):
            self.add_cause(n, group)
        for test in model.tests:
            self.add_test(test, groups.get(test.name))

    def row(self, test, n):
        """The chances of a test under the fault at a place."""
        even = [1 / len(test.outcomes)] * len(test.outcomes)
        return test.chances[self.model.faults[n]] if n < len(self.model.faults) else test.other or even

    def add_cause(self, n, group):
        """The switch, and the strength with as many steps as the tests have together, evenly spread or not."""
        self.cuts = []
        for fault in range(len(self.faults)):
            ends = {0.0, 1.0}
            for name in group.tests:
                row = self.row(self.model.by_name[name], fault)
                ends |= {sum(row[:k]) for k in range(1, len(row))}
            self.cuts.append(sorted(ends))
        steps = max(len(cuts) for cuts in self.cuts) - 1
        self.net.add(gum.LabelizedVariable("switch", "", 2))
        self.net.add(gum.LabelizedVariable("strength", "", steps))
        self.net.addArc("fault", "strength")
        share = share_together(len(group.tests), group.counts_as)
        self.net.cpt("switch").fillWith([1 - share, share])
        for fault, cuts in enumerate(self.cuts):
            widths = [high - low for low, high in pairwise(cuts)]
            self.net.cpt("strength")[{"fault": fault}] = widths + [0.0] * (steps - len(widths))

    def add_test(self, test, group):
        """A test under each fault, whatever its gate says, with and without the shared cause."""
        parents = ["fault", *test.silent_when, *(["switch", "strength"] if group else [])]
        for parent in parents:
            self.net.addArc(parent, test.name)
        sizes = [self.net.variable(parent).domainSize() for parent in parents]
        for places in product(*map(range, sizes)):
            given = dict(zip(parents, places, strict=True))
            self.net.cpt(test.name)[given] = self.told(test, given)

    def told(self, test, given):
        """The row of a test, all its parents given."""
        for gate, outcomes in test.silent_when.items():
            if self.model.by_name[gate].outcomes[given[gate]] in outcomes:
                return [*test.silent_as]
        row = self.row(test, given["fault"])
        if not given.get("switch"):
            return [*row]
        cuts = self.cuts[given["fault"]]
        step = min(given["strength"], len(cuts) - 2)
        middle = (cuts[step] + cuts[step + 1]) / 2
        place = sum(middle > sum(row[: k + 1]) for k in range(len(row) - 1))
        return [float(k == place) for k in range(len(row))]

    def posterior(self, evidence):
        """Exact, by the library."""
        inference = gum.LazyPropagation(self.net)
        for name, seen in evidence.items():
            outcomes = self.model.by_name[name].outcomes
            inference.addEvidence(name, outcomes.index(seen) if isinstance(seen, str) else [*seen])
        inference.makeInference()
        return inference.posterior("fault").tolist()
