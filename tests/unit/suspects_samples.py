"""Made-up fault models for the tests: small ones in words, and any number drawn by lot."""

from random import Random

from putback.suspects import Action, Group, Model, Test


def row(random: Random, length: int) -> tuple[float, ...]:
    """Chances that sum to 1, some of them small."""
    weights = [random.random() ** 2 + 0.01 for _ in range(length)]
    return tuple(weight / sum(weights) for weight in weights)


def drawn_test(random: Random, name: str, faults: list[str]) -> Test:
    """A test of two or three outcomes."""
    outcomes = tuple("abc"[: random.choice((2, 3))])
    return Test(name, outcomes, {fault: row(random, len(outcomes)) for fault in faults}, row(random, len(outcomes)))


def silenced(random: Random, test: Test, gate: Test) -> Test:
    """The test, telling nothing where another comes out as its first outcome."""
    return Test(
        test.name, test.outcomes, test.chances, test.other, {gate.name: ("a",)}, row(random, len(test.outcomes))
    )


def drawn_model(random: Random, faults: int = 5, tests: int = 6, actions: int = 4, behind: int = 0, tied: bool = True):
    """A model of any size: the last test is silenced by the first, which shares a cause with the two after it."""
    names = [f"fault {n}" for n in range(faults)]
    made = [drawn_test(random, f"test {n}", names) for n in range(tests)]
    groups = ()
    if tied and tests > 3:
        made[-1] = silenced(random, made[-1], made[0])
        groups = (Group(("test 0", "test 1", "test 2"), 1.5),)
    doors = {"cover": random.uniform(1, 50), "tray": random.uniform(1, 50)} if behind else {}
    mends = tuple(
        Action(
            f"action {n}",
            tuple(names[n::actions]),
            random.uniform(1, 100),
            random.choice([*doors]) if n < behind else None,
        )
        for n in range(actions)
    )
    places = {f"test {tests - 1}": "cover"} if behind else {}
    prior = dict(zip(names, row(random, faults), strict=True))
    return Model(prior, tuple(made), mends, groups, 0.04, doors, places, hand_on=random.choice((None, 150.0)))


def drawn_evidence(random: Random, model: Model, share: float = 0.5) -> dict:
    """Some of the tests read, plainly or softly."""
    read = [test for test in model.tests if random.random() < share]
    return {test.name: _reading(random, test) for test in read}


def _reading(random: Random, test: Test):
    return random.choice(test.outcomes) if random.random() < 0.6 else row(random, len(test.outcomes))


def two_outcomes(name: str, abnormal: dict[str, float], **more) -> Test:
    """A test that is fine or bad, from the chance of bad under each fault."""
    return Test(name, ("fine", "bad"), {fault: (1 - chance, chance) for fault, chance in abnormal.items()}, **more)


def one_each(costs: dict[str, float], **more) -> tuple[Action, ...]:
    """An action for each fault, called the same."""
    return tuple(Action(fault, (fault,), cost, more.get(fault)) for fault, cost in costs.items())
