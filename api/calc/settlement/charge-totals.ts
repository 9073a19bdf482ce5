import { Dec } from '../money.ts';
import { percentText } from '../terms/payable-form.ts';
import { given, shown } from './figure.ts';
import { addLine, amountsIn, massFor, money, rateOf, type SettlementRun } from './run.ts';

/** Umpires' costs as the contract lays them on the parties, once for each assay they settled. */
export function workUmpireCosts(run: SettlementRun) {
  for (const [element, share] of run.umpireShares) {
    const by = run.terms.assays.find((rule) => rule.element === element)?.settledBy;
    if (by?.kind !== 'exchange' || by.umpire.cost === null) continue;
    const cost = given(by.umpire.cost, run.terms.currency);
    const sellerPays = money(run, cost.value.times(share));
    const advanced = by.umpire.advancedBy;
    const due = advanced === 'buyer' ? sellerPays.value.neg() : null;
    const refundCount = advanced === 'seller' ? new Dec(run.umpired.get(element) ?? 0).minus(share) : null;
    const amount = due ?? money(run, cost.value.times(refundCount ?? 0)).value;
    const counted = advanced === 'buyer' ? share : (refundCount ?? new Dec(0));
    addLine(run, {
      id: `charges/umpire/${element}`,
      section: 'charges',
      label:
        advanced === 'buyer'
          ? `Umpire's assay of ${element}, seller's part`
          : `Umpire's assay of ${element}, buyer's part refunded`,
      working: `${shown(cost)} × ${percentText(counted)} = ${shown(money(run, amount.abs()))}`,
      quantity: cost,
      amount,
    });
  }
}

/** What is missing to the least that all charges together come to. */
export function workMinimumCharges(run: SettlementRun) {
  const { minimumCharges } = run.terms;
  if (minimumCharges === null) return;
  const charged = money(run, amountsIn(run, 'charges').neg());
  const least = money(run, new Dec(minimumCharges));
  if (charged.value.gte(least.value)) return;
  const more = money(run, least.value.minus(charged.value));
  addLine(run, {
    id: 'charges/minimum',
    section: 'charges',
    label: 'Charges up to the minimum of the contract',
    working: `${shown(least)} − ${shown(charged)} = ${shown(more)}`,
    amount: more.value.neg(),
  });
}

/** Where values per tonne are netted before they are multiplied: the cents between both ways. */
export function workPerTonneTotal(run: SettlementRun): void {
  const { valuation } = run.terms;
  if (valuation.kind !== 'per-tonne' || !valuation.totalPerTonne || run.perTonneRates.length === 0) return;
  const mass = massFor(run, 'settlement', valuation.unit, '/terms/valuation');
  if (mass === null) return;
  const net = run.perTonneRates.reduce((sum, rate) => sum.plus(rate), new Dec(0));
  const product = money(run, net.times(mass.value));
  const lines = run.perTonneRates.reduce(
    (sum, rate) => sum.plus(money(run, rate.times(mass.value)).value),
    new Dec(0),
  );
  const difference = product.value.minus(lines);
  if (difference.isZero()) return;
  const netRate = rateOf(run, net.toFixed(), valuation.unit);
  addLine(run, {
    id: 'credits/per-tonne-total',
    section: 'credits',
    label: `Net value per ${valuation.unit}, multiplied once`,
    working: `${shown(mass)} × ${shown(netRate)} = ${shown(product)}`,
    quantity: mass,
    rate: netRate,
    result: product,
  });
  addLine(run, {
    id: 'credits/per-tonne-rounding',
    section: 'credits',
    label: 'Less what its parts come to one by one',
    working: `${shown(product)} − ${shown(money(run, lines))} = ${shown(money(run, difference))}`,
    amount: difference,
  });
}
