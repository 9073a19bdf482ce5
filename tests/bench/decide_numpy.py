"""The model of the bench in vectorized numpy: the same decision, break-evens and drivers.

Reads the model from the JSON file named on the command line (written by run.ts) and the lot's draws from the
raw file beside it; prints times, peak memory and results as JSON. Drawn with numpy's own generator, so results
agree within Monte Carlo error. What does not change is worked out once here too.
"""

import json
import resource
import sys
import time

import numpy as np

OUNCE_G = 31.1034768

model = json.load(open(sys.argv[1]))
count = model["drawCount"]
raw = np.fromfile(model["drawsFile"], dtype=np.float64).reshape(-1, count)
treatments = model["treatments"]
T = len(treatments)
GRADE = {"Au": raw[0], "Ag": raw[1]}
RECOVERY = [{"Au": raw[2 + 2 * t], "Ag": raw[3 + 2 * t]} for t in range(T)]
METALS = ("Au", "Ag")


def payable(form, grade):
    p, d = float(form["paidFrac"]), float(form["deduction"])
    if form["kind"] == "lesser-of":
        return np.maximum(0, np.minimum(p * grade, grade - d))
    if form["kind"] == "unit-then-percent":
        return np.maximum(0, (grade - d) * p)
    return np.maximum(0, p * grade - d)


class Draws:
    """Columns that are drawn once and kept."""

    def __init__(self, seed):
        self.rng = np.random.default_rng(seed)
        self.columns = {}

    def kept(self, key, make):
        if key not in self.columns:
            self.columns[key] = make()
        return self.columns[key]

    def prices(self, day):
        """Lognormal prices on one path, gold and silver moving together; all days of the model at once."""

        def make():
            rho = 0.7
            own = np.sqrt(1 - rho * rho)
            days = sorted({t["horizonDays"] for t in treatments} | {s["horizonDays"] for s in model["sales"]})
            at, w, v, found = 0, np.zeros(count), np.zeros(count), {}
            for d in days:
                step = np.sqrt(d - at)
                w = w + step * self.rng.standard_normal(count)
                v = v + step * self.rng.standard_normal(count)
                at = d
                sd = {m: model["prices"][m]["annualVolatilityFrac"] / np.sqrt(365) for m in METALS}
                found[d] = {
                    "Au": np.exp(sd["Au"] * w - 0.5 * sd["Au"] ** 2 * d),
                    "Ag": np.exp(sd["Ag"] * (rho * w + own * v) - 0.5 * sd["Ag"] ** 2 * d),
                }
            return found

        return self.kept("prices", make)[day]

    def uniform(self, key):
        return self.kept(key, lambda: self.rng.random(count))

    def amount(self, amount, key):
        if not isinstance(amount, dict):
            return amount
        low, mode, high = amount["low"], amount["mode"], amount["high"]
        u = self.uniform(key)
        span = high - low
        if span == 0:
            return mode
        return np.where(
            u * span < mode - low,
            low + np.sqrt(u * span * (mode - low)),
            high - np.sqrt((1 - u) * span * (high - mode)),
        )

    def factor(self, relative_sd, key):
        return self.kept(
            key, lambda: np.exp(relative_sd * self.rng.standard_normal(count) - 0.5 * relative_sd**2)
        )


def bar(grade, recovery, mass_kg, fineness):
    gold = mass_kg / 1000 * grade["Au"] * recovery["Au"]
    silver = mass_kg / 1000 * grade["Ag"] * recovery["Ag"]
    precious = gold + silver
    bar_kg = precious / (1000 * fineness)
    return bar_kg, 1000 * fineness * gold / precious, 1000 * fineness * silver / precious


def refined(terms, parcel, price, factor=1.0):
    """A refiner's contract on bars of a mass, kg, with finenesses in parts per thousand."""
    bar_kg, gold_fineness, silver_fineness = parcel
    ozt = bar_kg * 1000 / OUNCE_G
    paid, ounces = 0, []
    for metal, fineness in (("Au", gold_fineness), ("Ag", silver_fineness)):
        clause = terms["metals"][metal]
        out = ozt * payable(clause["form"], fineness) / 1000
        ounces.append(out)
        paid = paid + out * price[metal]
    charged = sum(
        np.maximum(float(c["minimum"] or 0), ozt * float(c["rate"])) if c["kind"] == "per-mass" else float(c["amount"])
        for c in terms["charges"]
    )
    return paid * factor - charged, ounces


def sold(terms, sale, grade, assayed, price, mass_kg, factor=1.0):
    """A contract for concentrate: masses and the other assays are the same in every draw."""
    wet_t = mass_kg / (1 - sale["moistureFrac"]) / 1000
    dry_t = mass_kg / 1000
    settled_t = dry_t * (1 - float(terms["franchiseFrac"]))
    paid, charged, ounces = 0, 0, []
    for metal in METALS:
        clause = terms["metals"][metal]
        assay = grade[metal] * assayed[metal]
        out = settled_t * np.where(assay < float(clause["minimumGrade"]), 0, payable(clause["form"], assay)) / OUNCE_G
        ounces.append(out)
        paid = paid + out * price[metal]
        charged = charged + out * float(clause["refining"])
    for c in terms["charges"]:
        if c["kind"] == "per-mass":
            mass = {"wet": wet_t, "dry": dry_t, "settlement": settled_t}[c["basis"]]
            charged = charged + max(float(c["minimum"] or 0), mass * float(c["rate"]))
        elif c["onlyBelow"] is None or dry_t < float(c["onlyBelow"]):
            charged = charged + float(c["amount"])
    for p in terms["penalties"]:
        steps = (100 * sale["otherAssays"]["As"] - p["from"]) / p["step"]
        steps = np.floor(steps + 1e-9) if p["counting"] == "whole-steps" else steps
        charged = charged + settled_t * max(0, steps) * p["rate"]
    return paid * factor - charged, ounces


class Decision:
    """The decision under what-ifs: `changed` holds what differs from the model."""

    def __init__(self, seed):
        self.draws = Draws(seed)
        self.kept = {}

    def costs(self, t, changed):
        mass = model["lotDryMassKg"] * changed.get("mass", 1)
        treat = treatments[t]
        key = (
            "costs", t, mass, changed.get(("reagents", t)), changed.get(("labour", t)),
            changed.get(("lead", t)), changed.get("wage"),
        )

        def make():
            charges = np.ceil(mass / treat["chargeSizeKg"] - 1e-9)
            lead = treat["lead"]
            reagents = self.draws.amount(treat["reagentCostPerKg"], f"{t}/reagents") * changed.get(("reagents", t), 1)
            back = self.draws.amount(lead["returnFrac"], f"{t}/lead-return")
            furnace = self.draws.amount(treat["furnaceHoursPerCharge"], f"{t}/furnace")
            labour = self.draws.amount(treat["labourHoursPerCharge"], f"{t}/labour") * changed.get(("labour", t), 1)
            buy = lead["buyPricePerKg"] * changed.get(("lead", t), 1)
            return (
                mass * (reagents + lead["inKgPerKg"] * (buy - back * lead["recoveredValuePerKg"]))
                + charges * (furnace * treat["fuelCostPerFurnaceHour"] + labour * treat["wagePerHour"] * changed.get("wage", 1))
                + charges * treat["crucibleCostPerCharge"]
                + mass * treat["wasteCostPerKg"]
                + sum(c["amount"] for c in treat["fixedCosts"])
            )

        if key not in self.kept:
            self.kept[key] = make()
        return self.kept[key]

    def price(self, day, changed):
        drawn = self.draws.prices(day)
        return {m: model["prices"][m]["spot"] * changed.get(("price", m), 1) * drawn[m] for m in METALS}


def options():
    found = [("in-house", t, r) for t in range(T) for r in range(len(model["refiners"]))]
    return found + [("sale", s, s) for s in range(len(model["sales"]))]


def net_payment(decision, option, changed):
    kind, which, terms = option
    mass = model["lotDryMassKg"] * changed.get("mass", 1)
    factor = changed.get(("payment", option), 1)
    grade = {m: GRADE[m] * changed[("grade", m)] if ("grade", m) in changed else GRADE[m] for m in METALS}
    if kind == "in-house":
        treat = treatments[which]
        price = decision.price(treat["horizonDays"], changed)
        recovery = RECOVERY[which]
        if any(("recovery", which, m) in changed for m in METALS):
            recovery = {
                m: shifted(recovery[m], changed[("recovery", which, m)]) if ("recovery", which, m) in changed else recovery[m]
                for m in METALS
            }
        if changed:
            parcel = bar(grade, recovery, mass, treat["doreFinenessFrac"])
        else:
            parcel = decision.kept.setdefault(("bar", which), None)
            if parcel is None:
                parcel = decision.kept[("bar", which)] = bar(grade, recovery, mass, treat["doreFinenessFrac"])
        return refined(model["refiners"][terms], parcel, price, factor)
    sale = model["sales"][which]
    assayed = {m: decision.draws.factor(sale["buyerAssayRelativeSd"], f"assay/{which}/{m}") for m in METALS}
    return sold(model["buyers"][terms], sale, grade, assayed, decision.price(sale["horizonDays"], changed), mass, factor)


def net_value(decision, option, changed, payment=None):
    paid = net_payment(decision, option, changed)[0] if payment is None else payment
    if option[0] == "in-house":
        return paid - decision.costs(option[1], changed)
    return paid - sum(c["amount"] for c in model["sales"][option[1]]["fixedCosts"])


def summary(values):
    p10, p50, p90 = np.quantile(values, [0.1, 0.5, 0.9])
    return values.mean(), values.std(ddof=1), p10, p50, p90


def decide(decision):
    names = options()
    nets, results = [], []
    for option in names:
        paid, ounces = net_payment(decision, option, {})
        net = net_value(decision, option, {}, paid)
        assert np.isfinite(net).all()
        nets.append(net)
        results.append((option, summary(net), [summary(np.broadcast_to(o, (count,))) for o in ounces], (net < 0).mean()))
    nets = np.array(nets)
    best = nets.max(axis=0)
    chance = (nets == best).mean(axis=1)
    regret = best.mean() - nets.mean(axis=1)
    order = np.argsort(-nets.mean(axis=1))
    return [(names[i], results[i][1], chance[i], regret[i]) for i in order], nets


def shifted(recovery, shift):
    odds = np.exp(shift)
    return recovery * odds / (1 - recovery + recovery * odds)


def what_ifs(pair):
    """Key in `changed`, today, range, and whether only costs change; as usualWhatIfs has them."""
    found = [(("price", m), 1, 0.3, 3, False) for m in METALS]
    found += [(("grade", m), 1, 0.2, 5, False) for m in METALS]
    for kind, which, _ in pair:
        if kind != "in-house":
            continue
        found += [(("recovery", which, m), 0, -3, 3, False) for m in METALS]
        found += [((field, which), 1, 0, 5, True) for field in ("reagents", "labour", "lead")]
    found += [(("payment", option), 1, 0.5, 1.5, False) for option in pair]
    if any(kind == "in-house" for kind, _, _ in pair):
        found += [("wage", 1, 0, 5, True)]
    return found + [("mass", 1, 0.05, 10, False)]


def root_between(f, a, fa, b, fb):
    x0, f0, x1, f1 = a, fa, b, fb
    tolerance, small = 1e-6 * abs(b - a), 1e-9 * max(abs(fa), abs(fb))
    for _ in range(60):
        x = x1 - f1 * (x1 - x0) / (f1 - f0)
        fx = f(x)
        if abs(fx) <= small or abs(x1 - x0) <= tolerance:
            return x
        if fx * f1 < 0:
            x0, f0 = x1, f1
        else:
            f0 /= 2
        x1, f1 = x, fx
    return x1


def touches(key, option):
    """Whether a what-if moves an option at all; what it does not move is not worked out again."""
    if isinstance(key, str):
        return key == "mass" or option[0] == "in-house"
    if key[0] in ("price", "grade"):
        return True
    if key[0] == "payment":
        return key[1] == option
    return option[0] == "in-house" and key[1] == option[1]


def break_evens(decision, pair):
    paid = {option: net_payment(decision, option, {})[0] for option in pair}
    as_is = {option: net_value(decision, option, {}, paid[option]).mean() for option in pair}
    evaluations = 0
    found = {}
    for key, today, low, high, costs_only in what_ifs(pair):

        def difference(x):
            nonlocal evaluations
            evaluations += 1
            changed = {key: x}
            nets = [
                net_value(decision, option, changed, paid[option] if costs_only else None).mean()
                if touches(key, option)
                else as_is[option]
                for option in pair
            ]
            if costs_only:  # Columns of costs that were passed over are of no more use.
                for kept in [k for k in decision.kept if k[0] == "costs" and any(v is not None for v in k[3:])]:
                    del decision.kept[kept]
            return nets[0] - nets[1]

        places = [low, today, high] if costs_only else [low, (low + today) / 2, today, (today + high) / 2, high]
        values = [difference(x) for x in places]
        crossings = [
            root_between(difference, places[i], values[i], places[i + 1], values[i + 1])
            for i in range(len(places) - 1)
            if values[i] * values[i + 1] < 0
        ]
        found[str(key)] = sorted(crossings, key=lambda x: abs(x - today))
    return found, evaluations


def variance_share(outcome, column):
    bins = min(64, count // 50)
    edges = np.quantile(column, np.arange(1, bins) / bins)
    index = np.searchsorted(edges, column, side="left")
    deviation = outcome - outcome.mean()
    counts = np.bincount(index, minlength=bins)
    sums = np.bincount(index, weights=deviation, minlength=bins)
    total = (deviation * deviation).sum()
    full = counts > 0
    filled = full.sum()
    between = (sums[full] ** 2 / counts[full]).sum()
    if filled < 2 or not total > 0:
        return None
    within = (total - between) / (count - filled)
    per_bin = (count - (counts.astype(float) ** 2).sum() / count) / (filled - 1)
    return min(1.0, max(0.0, (between / (filled - 1) - within) / per_bin * count / total))


def drivers(decision, pair, nets):
    outcome = nets[0] - nets[1]
    columns = {f"grade/{m}": GRADE[m] for m in METALS}
    for kind, which, _ in pair:
        source = treatments[which] if kind == "in-house" else model["sales"][which]
        for m in METALS:
            columns[f"price/{m}/{source['horizonDays']}"] = decision.draws.prices(source["horizonDays"])[m]
        if kind == "sale":
            for m in METALS:
                columns[f"assay/{which}/{m}"] = decision.draws.factor(source["buyerAssayRelativeSd"], f"assay/{which}/{m}")
            continue
        for m in METALS:
            columns[f"recovery/{which}/{m}"] = RECOVERY[which][m]
        amounts = {
            "reagents": source["reagentCostPerKg"], "lead-return": source["lead"]["returnFrac"],
            "furnace": source["furnaceHoursPerCharge"], "labour": source["labourHoursPerCharge"],
        }
        for field, amount in amounts.items():
            columns[f"{field}/{which}"] = decision.draws.amount(amount, f"{which}/{field}")
    shares = {name: variance_share(outcome, column) for name, column in columns.items()}
    return sorted(((name, share) for name, share in shares.items() if share is not None), key=lambda s: -s[1])


def timed(work):
    wall, cpu = time.perf_counter(), time.process_time()
    result = work()
    return result, {"wallMs": 1000 * (time.perf_counter() - wall), "cpuMs": 1000 * (time.process_time() - cpu)}


runs = []
peak = None
for _ in range(model["repeats"]):
    decision = Decision(7)
    (ranked, nets), decide_time = timed(lambda: decide(decision))
    first = ranked[0][0]
    pair = [first, next(option for option, *_ in ranked if option[:2] != first[:2])]
    names = options()
    (turns, evaluations), break_even_time = timed(lambda: break_evens(decision, pair))
    found, driver_time = timed(lambda: drivers(decision, pair, [nets[names.index(option)] for option in pair]))
    runs.append({"decide": decide_time, "breakEvens": break_even_time, "drivers": driver_time})
    peak = peak or resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024

print(json.dumps({
    "numpy": np.__version__,
    "python": sys.version.split()[0],
    "runs": runs,
    "peakMb": peak,
    "evaluations": evaluations,
    "ranked": [
        {"option": list(option), "mean": s[0], "sd": s[1], "p10": s[2], "p90": s[4], "chance": c, "regret": r}
        for option, s, c, r in ranked
    ],
    "breakEvens": turns,
    "drivers": found,
}))
